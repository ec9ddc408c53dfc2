/work/main/tests/mutants/target/release/deps/itoa-93bee6d51e4296ed.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/u128_ext.rs

/work/main/tests/mutants/target/release/deps/libitoa-93bee6d51e4296ed.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/u128_ext.rs

/work/main/tests/mutants/target/release/deps/libitoa-93bee6d51e4296ed.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/u128_ext.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/lib.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/itoa-1.0.19/src/u128_ext.rs:
