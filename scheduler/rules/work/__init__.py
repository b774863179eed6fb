"""Rules about gathers, closed days, hands and stock."""

__all__: list[str] = []
