/work/main/tests/mutants/target/release/deps/serde_spanned-ab962779fca2bc07.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/spanned.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/de.rs

/work/main/tests/mutants/target/release/deps/libserde_spanned-ab962779fca2bc07.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/spanned.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/de.rs

/work/main/tests/mutants/target/release/deps/libserde_spanned-ab962779fca2bc07.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/spanned.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/de.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/lib.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/spanned.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/serde_spanned-1.1.3/src/de.rs:
