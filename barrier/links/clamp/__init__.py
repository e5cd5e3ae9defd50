"""Link 3: the clamps and the supplier's rating."""
