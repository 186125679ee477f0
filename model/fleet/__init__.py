"""Many engines of many ages: a register, when to replace, with what, and what to budget."""
