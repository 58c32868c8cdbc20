"""What a folder of finished jobs taught, as sentences, as data and as times.xlsx."""
