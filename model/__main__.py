"""python -m model COMMAND."""

from model.cli_trials import main

if __name__ == "__main__":
    main()
