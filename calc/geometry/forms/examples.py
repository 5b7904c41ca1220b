"""Points of our own invented cars, for the examples of the calculators. Millimetres; not taken from any car."""

from calc.geometry.forms.inputs import rows_of

DOUBLE_WISHBONE = rows_of("""
wheel_centre 0 695 282
lower_arm_front_inner 170 330 168
lower_arm_rear_inner -165 325 162
lower_ball_joint 8 640 150
upper_arm_front_inner 95 390 412
upper_arm_rear_inner -130 395 400
upper_ball_joint -22 602 428
tie_rod_inner -118 338 190
tie_rod_outer -112 628 181
spring_lower 0 545 160
spring_upper -10 420 505
bar_axis_inner -230 -400 175
bar_axis_outer -230 400 175
bar_arm_end -60 520 236
bar_link_end -55 525 162
""")

STRUT_WITH_ROD = rows_of("""
wheel_centre 0 755 305
strut_top_mount -32 572 872
strut_lower -6 640 352
lateral_link_inner -12 352 196
rod_inner 405 452 212
lower_ball_joint 6 702 178
tie_rod_inner -128 355 248
tie_rod_outer -134 690 234
""")

STRUT = rows_of("""
wheel_centre 0 745 300
strut_top_mount -30 566 860
strut_lower -5 632 345
lower_arm_front_inner 12 358 188
lower_arm_rear_inner -290 350 200
lower_ball_joint 6 692 174
tie_rod_inner -118 346 242
tie_rod_outer -131 676 230
""")

MULTI_LINK = rows_of("""
wheel_centre 0 760 305
lower_arm_front_inner 190 345 208
lower_arm_rear_inner -110 315 198
lower_ball_joint 2 698 182
camber_link_inner -28 432 452
camber_link_outer -18 668 466
toe_link_inner -182 340 228
toe_link_outer -172 690 214
traction_rod_inner 352 540 372
traction_rod_outer 32 678 402
spring_lower 10 575 188
spring_upper 6 520 566
""")

SEMI_TRAILING = rows_of("""
wheel_centre 0 705 300
pivot_inner 325 240 288
pivot_outer 470 610 302
spring_lower 35 560 268
spring_upper 44 532 632
""")

AXLE_PANHARD = rows_of("""
wheel_centre_left 0 735 318
wheel_centre_right 0 -735 318
lower_link_chassis_left 530 455 276
lower_link_chassis_right 530 -455 276
lower_link_axle_left 12 505 246
lower_link_axle_right 12 -505 246
upper_link_chassis 410 15 436
upper_link_axle 42 15 474
panhard_chassis -125 -485 336
panhard_axle -125 465 306
""")
