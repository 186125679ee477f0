"""What each cost element comes to; none imports another."""
