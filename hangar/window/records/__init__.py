"""Any record in a form or a table, what was changed in it, and where a part has been."""
