"""What is where: the index of all files, the entries worth reading, searching by words, what to recall before a cook.

The index answers for the text files and never instead of them.
May be imported by plan, the command line and the page; the kitchen itself asks the index through a door.
"""
