"""What every screen of the window is made with: the desk, words, looks, drawing and entry helpers."""
