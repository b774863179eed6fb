"""Rules about gathers, closed days and hands."""

__all__: list[str] = []
