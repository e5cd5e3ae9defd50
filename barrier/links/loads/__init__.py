"""Link 1: the actions on the glass, and the wind."""
