"""Tightening: orders, stages, wrenches, and what a bolt makes of a torque.

`orders` and `order_rules` say in which order; `stages` what each round is and where it may be taken up again; `wrench`
and `wrench_class` what number to set and how far it can be trusted; `threads`, `strength`, `preload`, `stretch`,
`turns`, `lubricant` and `advice` the arithmetic of the fastener. Lengths are in mm, forces in N, torques in N·m,
stresses in MPa (N/mm²) and angles in degrees unless a name says otherwise; every number is a Fraction or a Decimal.
"""
