"""python -m model COMMAND."""

from model.cli_ask import main

if __name__ == "__main__":
    main()
