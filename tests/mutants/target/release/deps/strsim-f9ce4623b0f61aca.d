/work/main/tests/mutants/target/release/deps/strsim-f9ce4623b0f61aca.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/strsim-0.11.1/src/lib.rs

/work/main/tests/mutants/target/release/deps/libstrsim-f9ce4623b0f61aca.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/strsim-0.11.1/src/lib.rs

/work/main/tests/mutants/target/release/deps/libstrsim-f9ce4623b0f61aca.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/strsim-0.11.1/src/lib.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/strsim-0.11.1/src/lib.rs:
