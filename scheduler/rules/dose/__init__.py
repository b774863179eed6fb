"""Rules of the label on one dose, and on doses of one cohort."""

__all__: list[str] = []
