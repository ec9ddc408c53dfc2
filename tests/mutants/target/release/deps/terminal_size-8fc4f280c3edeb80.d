/work/main/tests/mutants/target/release/deps/terminal_size-8fc4f280c3edeb80.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/unix.rs

/work/main/tests/mutants/target/release/deps/libterminal_size-8fc4f280c3edeb80.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/unix.rs

/work/main/tests/mutants/target/release/deps/libterminal_size-8fc4f280c3edeb80.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/unix.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/lib.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/terminal_size-0.4.4/src/unix.rs:
