"""Link 8: the joists the blocking is fixed to, the last ones checked; and how far they and the end fixings give way."""
