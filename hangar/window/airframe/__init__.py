"""The Airframe Folder and its plainer pages."""
