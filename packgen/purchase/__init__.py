"""What is bought once the days are known: the order list by pour and day, delivery, money."""
