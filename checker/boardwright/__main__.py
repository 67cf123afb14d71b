from boardwright.cli import run

run()
