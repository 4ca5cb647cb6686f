"""The prose of the plan: text only."""
