"""Rules about what was done."""

__all__: list[str] = []
