"""What the world says: weather files and the sun. Data, no calculation of cooling."""
