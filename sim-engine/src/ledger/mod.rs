//! The books: every stock, every flow across a border, and what must balance.

pub mod balance;
pub mod flows;
pub mod stocks;
