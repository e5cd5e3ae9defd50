"""Australia: equations only so far; there is no family of codes yet that answers a link with them."""
