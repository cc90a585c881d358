//! Whole commands, as typed: exit code, answer and messages. `TRYCMD=overwrite cargo test --test cmd` writes them anew.

/// In `tests/cmd/`, `? 1` under a command is its exit code, `[..]` anything on a line, `...` any lines.
#[test]
fn commands() {
    trycmd::TestCases::new().env("NO_COLOR", "1").case("tests/cmd/*.trycmd").case("tests/cmd/*.toml");
}
