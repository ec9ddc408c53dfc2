//! Text broken into lines of the terminal.

/// Widest line printed.
pub const WIDTH: usize = 80;

/// Text in lines of at most `width` characters, broken at spaces, else after a hyphen, else anywhere.
#[must_use]
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for piece in pieces(paragraph, width) {
            let bare = piece.trim_end();
            if !line.is_empty() && line.chars().count() + bare.chars().count() > width {
                lines.push(line.trim_end().to_owned());
                line.clear();
            }
            line += &piece;
        }
        lines.push(line.trim_end().to_owned());
    }
    lines
}

/// What may stand alone on a line: words with the space after them; long ones cut.
fn pieces(text: &str, width: usize) -> Vec<String> {
    let mut pieces = Vec::new();
    for word in text.split_inclusive(' ') {
        if word.trim_end().chars().count() <= width {
            pieces.push(word.to_owned());
            continue;
        }
        for part in word.split_inclusive('-') {
            let letters: Vec<char> = part.chars().collect();
            pieces.extend(letters.chunks(width.max(1)).map(|chunk| chunk.iter().collect::<String>()));
        }
    }
    pieces
}

/// Paragraphs wrapped for the terminal.
#[must_use]
pub fn paragraph(text: &str) -> String {
    wrap(text, WIDTH).join("\n") + "\n"
}

/// Words wrapped to the terminal: the first line after `first`, the others as far in.
#[must_use]
pub fn wrapped(words: &str, first: &str) -> String {
    let indent = first.chars().count();
    let mut out = String::new();
    for (at, line) in wrap(words, WIDTH - indent).iter().enumerate() {
        let before = if at == 0 { first.to_owned() } else { " ".repeat(indent) };
        out.push_str(&format!("{before}{line}\n"));
    }
    out
}

/// A paragraph whose every line stands in by so many columns.
#[must_use]
pub fn indented(text: &str, by: usize) -> String {
    wrapped(text, &" ".repeat(by))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_wraps_at_spaces() {
        assert_eq!(wrap("one two three", 8), ["one two", "three"]);
        assert_eq!(wrap("hyphen-ated", 8), ["hyphen-", "ated"]);
        assert_eq!(wrap("", 8), Vec::<String>::new());
    }

    #[test]
    fn no_line_is_longer_than_the_terminal_and_points_hang() {
        let text = wrapped(&"word ".repeat(60), "  - ");
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert!(text.lines().skip(1).all(|line| line.starts_with("    word")));
    }
}
