//! What concerns several crates is tested beside this file, in `tests/`; cases as data lie in `cases/`.
