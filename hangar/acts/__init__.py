"""What a keeper does to the records: each act takes an edit and says what it did."""
