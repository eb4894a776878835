"""What the engines read and what pages show: the only door between the compiler and everything after it."""
