"""``python -m academy`` is the same command as ``academy``."""

from academy.cli import main

if __name__ == "__main__":
    main()
