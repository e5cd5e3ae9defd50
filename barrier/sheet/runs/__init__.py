"""The paper of a whole run: what is marked, cut, ordered and set on site, and what was checked of it."""
