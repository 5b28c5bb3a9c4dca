//! The screens on cursive, through our own backend over the terminal room.
