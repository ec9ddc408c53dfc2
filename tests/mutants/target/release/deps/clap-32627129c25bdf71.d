/work/main/tests/mutants/target/release/deps/clap-32627129c25bdf71.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.md

/work/main/tests/mutants/target/release/deps/libclap-32627129c25bdf71.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.md

/work/main/tests/mutants/target/release/deps/libclap-32627129c25bdf71.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.md

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/lib.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap-4.6.9/src/../examples/demo.md:
