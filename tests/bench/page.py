"""All that the bench knows about our pages: change it here when they change."""

# A page with a calculator, and its parts. Its data-state is "answered" once the new answer stands in the page.
CALCULATOR = "[data-calculator]"
INPUT = f"{CALCULATOR} input[inputmode=decimal]"

# Our browser modules as the page itself loads them; `base` leads to the site's top.
_PYTHON = "const { python } = await import(new URL('assets/handbook/python.js', base).href);"

# (base, question) -> milliseconds from the start of the navigation to the first answer, started by the page itself.
FIRST_ANSWER = f"""async ([base, question]) => {{
  {_PYTHON}
  await new Promise((resolve, reject) => python.onState(({{ state, reason }}) => {{
    if (state === 'ready') resolve();
    if (state === 'failed') reject(new Error(reason));
  }}));
  await python.ask(question);
  return performance.now();
}}"""

# (base, questions) -> milliseconds of each round trip to the worker.
ROUND_TRIPS = f"""async ([base, questions]) => {{
  {_PYTHON}
  const took = [];
  for (const question of questions) {{
    const start = performance.now();
    await python.ask(question);
    took.push(performance.now() - start);
  }}
  return took;
}}"""

# (selectors, values) -> milliseconds from each keystroke to the changed answer in the page.
KEYSTROKES = """async ([{ calculator, input }, values]) => {
  const field = document.querySelector(input);
  const form = field.closest(calculator);
  const took = [];
  for (const value of values) {
    const start = performance.now();
    const answered = new Promise((resolve) => {
      const observer = new MutationObserver(() => {
        if (form.dataset.state !== 'answered') return;
        observer.disconnect();
        resolve(true);
      });
      observer.observe(form, { attributeFilter: ['data-state'] });
      setTimeout(() => { observer.disconnect(); resolve(false); }, 2000);
    });
    field.value = value;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    if (await answered) took.push(performance.now() - start);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return took;
}"""

# -> whether the site is saved on the device.
SAVED = """async (base) => {
  const { offline } = await import(new URL('assets/handbook/offline.js', base).href);
  return new Promise((resolve) => offline.onState(({ state }) => {
    if (state === 'ready') resolve(true);
    if (state === 'unsupported' || state === 'failed') resolve(false);
  }));
}"""

# The points that can be dragged, inside a calculator.
POINT = ".handle[tabindex]"
JOINT = ".handle[tabindex][data-handle=lower_ball_joint]"
MARK = ".mark"

# (form, [x, y, milliseconds]) -> when each redraw came, while a held point is pulled around in a small circle on every frame.
DRAG = """(form, [x, y, long]) => new Promise((resolve) => {
  const host = form.querySelector('.figures');
  const times = [];
  const observer = new MutationObserver(() => times.push(performance.now()));
  observer.observe(host.querySelector('figure .plot'), { childList: true });
  const start = performance.now();
  const pull = () => {
    const turn = (performance.now() - start) / 300;
    const at = { clientX: x + 8 * Math.cos(turn), clientY: y + 8 * Math.sin(turn), pointerId: 1, isPrimary: true, bubbles: true };
    host.dispatchEvent(new PointerEvent('pointermove', at));
    if (performance.now() - start < long) requestAnimationFrame(pull);
    else { observer.disconnect(); resolve(times); }
  };
  requestAnimationFrame(pull);
})"""
