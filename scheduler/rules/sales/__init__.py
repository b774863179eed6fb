"""Rules about sales, milk and wool."""

__all__: list[str] = []
