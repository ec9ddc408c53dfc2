//! What an outcome was made from: version, seed, and a digest of the inputs.

/// Version of the program.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// What a digest looks like: [`input_digest`].
pub(crate) const DIGEST: &str = "^[0-9a-f]{32}$";

/// What a document was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provenance {
    /// Version of the program.
    pub version: String,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Digest of the inputs' bytes: [`input_digest`].
    pub input_digest: String,
}

impl Provenance {
    /// Of this version of the program.
    #[must_use]
    pub fn new(seed: u64, input_digest: String) -> Self {
        Self { version: VERSION.to_owned(), seed, input_digest }
    }
}

/// Digest of inputs: role ("site", "weather", "dates", …) and bytes of each, in a fixed order.
///
/// FNV-1a with 128 bits (RFC draft-eastlake-fnv): it tells whether two runs had the same
/// inputs, and is no protection against forgery. Paths play no part.
#[must_use]
pub fn input_digest(parts: &[(&str, &[u8])]) -> String {
    let mut digest = Fnv::default();
    for (role, bytes) in parts {
        // Lengths keep ("a", "bc") apart from ("ab", "c").
        digest.take(&(role.len() as u64).to_le_bytes());
        digest.take(role.as_bytes());
        digest.take(&(bytes.len() as u64).to_le_bytes());
        digest.take(bytes);
    }
    digest.hex()
}

/// FNV-1a with 128 bits, piece by piece.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fnv(u128);

impl Default for Fnv {
    fn default() -> Self {
        Self(0x6c62_272e_07bb_0142_62b8_2175_6295_c58d)
    }
}

impl Fnv {
    pub fn take(&mut self, bytes: &[u8]) {
        const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
        self.0 = bytes.iter().fold(self.0, |state, &byte| (state ^ u128::from(byte)).wrapping_mul(PRIME));
    }

    pub fn hex(self) -> String {
        format!("{:032x}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Offset basis of the empty input and the published digest step by hand.
    #[test]
    fn the_digest_is_stable_and_tells_inputs_apart() {
        assert_eq!(input_digest(&[]), "6c62272e07bb014262b821756295c58d");
        let one = input_digest(&[("site", b"abc")]);
        assert_eq!(one, input_digest(&[("site", b"abc")]));
        assert_ne!(one, input_digest(&[("site", b"abd")]));
        assert_ne!(input_digest(&[("s", b"ab"), ("t", b"c")]), input_digest(&[("s", b"a"), ("t", b"bc")]));
    }
}
