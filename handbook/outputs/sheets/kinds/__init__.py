"""What stands on each kind of sheet, beside the page that says the same."""
