"""`python -m scheduler` is the command `season`."""

from scheduler.cli import main

if __name__ == "__main__":
    main(prog_name="season")
