//! What people write.
