//! What is called how in a folder of results.

/// The folder of its own.
pub const OWN: &str = ".hensward";
/// In it: whose the results are.
pub const OWNER: &str = "owner";
/// In it: which files a run wrote.
pub const LIST: &str = "written";
