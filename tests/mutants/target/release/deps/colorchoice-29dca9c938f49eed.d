/work/main/tests/mutants/target/release/deps/colorchoice-29dca9c938f49eed.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/colorchoice-1.0.5/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcolorchoice-29dca9c938f49eed.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/colorchoice-1.0.5/src/lib.rs

/work/main/tests/mutants/target/release/deps/libcolorchoice-29dca9c938f49eed.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/colorchoice-1.0.5/src/lib.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/colorchoice-1.0.5/src/lib.rs:
