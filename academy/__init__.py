"""A training curriculum and skills-assessment platform for machine paint correction."""
