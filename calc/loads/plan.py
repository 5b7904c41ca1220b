"""The car from above: four wheels with a label at each."""

from calc.figures.spec import Drawing, Shape


def plan(
    title: str,
    description: str,
    sizes: tuple[float, float, float],
    labels: tuple[str, ...],
    point: tuple[float, float] | None = None,
) -> Drawing:
    """Return a plan view; ``sizes`` are wheelbase, front and rear track, ``point`` is (left, behind the front axle)."""
    length, front, rear = sizes[0], sizes[1] / 2, sizes[2] / 2
    wheels = ((front, 0.0), (-front, 0.0), (rear, -length), (-rear, -length))
    shapes = [
        Shape(
            "polygon",
            tuple((y + dy, x + dx) for dy, dx in ((-0.1, -0.3), (0.1, -0.3), (0.1, 0.3), (-0.1, 0.3))),
            "wheel",
        )
        for y, x in wheels
    ]
    shapes += [Shape("label", ((y, x + 0.32),), "note", label) for (y, x), label in zip(wheels, labels, strict=True)]
    shapes += [
        Shape("line", ((0.0, 0.3), (0.0, -length - 0.3)), "construction"),
        Shape("line", (wheels[1], wheels[2]), "construction"),
    ]
    if point:
        shapes.append(Shape("point", ((point[0], -point[1]),), "result", "centre of gravity"))
    return Drawing(title, description, ("y left", "x forward"), tuple(shapes), x_to_left=True)
