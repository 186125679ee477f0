"""Cases small enough for a pocket calculator; expected values are written as the sums that give them."""
