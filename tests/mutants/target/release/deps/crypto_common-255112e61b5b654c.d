/work/main/tests/mutants/target/release/deps/crypto_common-255112e61b5b654c.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/crypto-common-0.1.7/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcrypto_common-255112e61b5b654c.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/crypto-common-0.1.7/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcrypto_common-255112e61b5b654c.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/crypto-common-0.1.7/src/lib.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/crypto-common-0.1.7/src/lib.rs:
