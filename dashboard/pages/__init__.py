"""Pages: one file for each question that a user asks. Each has its layout and connects its pictures."""
