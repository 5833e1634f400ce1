"""What released versions wrote and were, kept byte for byte and run by every later build.

``format-1`` was recorded when format 1 froze. Nothing in it is ever changed; a later format gets a
folder of its own: ``python -m tests.golden.record format-2``. ``app-0.1.0`` holds the wheel of that
release; a later one is put beside it.
"""
