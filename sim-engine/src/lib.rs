//! The model.
