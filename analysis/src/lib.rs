//! Many runs.
