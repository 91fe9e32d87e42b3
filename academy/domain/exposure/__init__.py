"""What a day's work does to hands and ears: vibration and noise."""
