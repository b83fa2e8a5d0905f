"""The desk on a screen: the only room with Qt."""
