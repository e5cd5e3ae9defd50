"""Link 2: the glass on its clamps."""
