"""What released versions wrote, kept byte for byte and replayed by every later build.

``format-1`` was recorded when format 1 froze. Nothing in it is ever changed; a later format gets a
folder of its own: ``python -m tests.golden.record format-2``.
"""
