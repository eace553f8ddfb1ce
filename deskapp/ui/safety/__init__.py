"""What could hurt someone: stops to acknowledge, words of care, leaving a house as it was found."""
