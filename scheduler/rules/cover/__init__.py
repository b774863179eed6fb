"""Rules about what must be covered."""

__all__: list[str] = []
