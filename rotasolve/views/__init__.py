"""Plans and answers as text: maps, tables, words, JSON."""
