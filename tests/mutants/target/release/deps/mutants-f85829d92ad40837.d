/work/main/tests/mutants/target/release/deps/mutants-f85829d92ad40837.d: src/main.rs src/build.rs src/draw.rs src/record.rs src/report.rs src/sample.rs src/scratch.rs src/settings.rs src/switch.rs src/tool.rs src/trial.rs

/work/main/tests/mutants/target/release/deps/mutants-f85829d92ad40837: src/main.rs src/build.rs src/draw.rs src/record.rs src/report.rs src/sample.rs src/scratch.rs src/settings.rs src/switch.rs src/tool.rs src/trial.rs

src/main.rs:
src/build.rs:
src/draw.rs:
src/record.rs:
src/report.rs:
src/sample.rs:
src/scratch.rs:
src/settings.rs:
src/switch.rs:
src/tool.rs:
src/trial.rs:

# env-dep:CARGO_MANIFEST_DIR=/work/main/tests/mutants
# env-dep:CARGO_PKG_NAME=mutants
