//! Setting a recipe up: balance, names, steps, and the picture of its steps.

mod balance;
mod graph;
mod in_turn;
mod kit;
mod parts;
mod rename;
mod steps;
mod written;
