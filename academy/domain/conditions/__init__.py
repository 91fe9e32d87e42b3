"""What is around the panel: moisture in the air, mixtures in the bottle, and what the eye makes out."""
