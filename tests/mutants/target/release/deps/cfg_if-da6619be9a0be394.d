/work/main/tests/mutants/target/release/deps/cfg_if-da6619be9a0be394.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/cfg-if-1.0.5/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcfg_if-da6619be9a0be394.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/cfg-if-1.0.5/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcfg_if-da6619be9a0be394.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/cfg-if-1.0.5/src/lib.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/cfg-if-1.0.5/src/lib.rs:
