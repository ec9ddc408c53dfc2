/work/main/tests/mutants/target/release/deps/is_terminal_polyfill-3915eac1cfcae606.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/is_terminal_polyfill-1.70.2/src/lib.rs

/work/main/tests/mutants/target/release/deps/libis_terminal_polyfill-3915eac1cfcae606.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/is_terminal_polyfill-1.70.2/src/lib.rs

/work/main/tests/mutants/target/release/deps/libis_terminal_polyfill-3915eac1cfcae606.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/is_terminal_polyfill-1.70.2/src/lib.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/is_terminal_polyfill-1.70.2/src/lib.rs:
