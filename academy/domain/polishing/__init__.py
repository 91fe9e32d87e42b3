"""What the machine does to the paint: speed, dwell, pressure, removal and heat, each a page of formulas."""
