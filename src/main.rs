//! The `hensward` program.
fn main() {}
