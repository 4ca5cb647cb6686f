"""The questions as data, one module a topic. engine.QUESTIONS puts them in order."""
