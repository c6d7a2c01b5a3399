"""What the referee works out for itself, from the records alone: it shares no line with what the model uses."""
