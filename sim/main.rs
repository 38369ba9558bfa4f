//! Start here: which command?

fn main() {}
