/work/main/tests/mutants/target/release/deps/clap_lex-e5dcfafc55de7018.d: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/ext.rs

/work/main/tests/mutants/target/release/deps/libclap_lex-e5dcfafc55de7018.rlib: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/ext.rs

/work/main/tests/mutants/target/release/deps/libclap_lex-e5dcfafc55de7018.rmeta: /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/lib.rs /root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/ext.rs

/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/lib.rs:
/root/.cargo/registry/src/index.crates.io-1949cf8c6b5b557f/clap_lex-1.1.2/src/ext.rs:
