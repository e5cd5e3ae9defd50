"""Link 7: what the mounts stand on and its end fixings, and what is handed on to the deck."""
