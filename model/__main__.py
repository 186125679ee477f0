"""python -m model COMMAND."""

from model.cli import main

if __name__ == "__main__":
    main()
