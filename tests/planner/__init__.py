"""The exact planner against every choice there is, on problems small enough for that."""
