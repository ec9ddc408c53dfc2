//! Source text cut into words and signs; comments, texts and what only tests build left out.

/// Words and single signs, with `::` as one.
pub fn tokens(source: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut rest = source;
    while let Some(first) = rest.chars().next() {
        let length = skipped(rest).unwrap_or_else(|| {
            let length = word(rest).unwrap_or(if rest.starts_with("::") { 2 } else { first.len_utf8() });
            if !first.is_whitespace() {
                found.push(rest[..length].to_owned());
            }
            length
        });
        rest = &rest[length..];
    }
    without_tests(&found)
}

/// The length of a word.
fn word(rest: &str) -> Option<usize> {
    let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
    (end > 0).then_some(end)
}

/// The length of a comment, a text or a letter that begins here.
fn skipped(rest: &str) -> Option<usize> {
    if rest.starts_with("//") {
        return Some(rest.find('\n').unwrap_or(rest.len()));
    }
    if rest.starts_with("/*") {
        return Some(block_comment(rest));
    }
    let prefix = ["br", "r", "b", "c", ""].into_iter().find(|prefix| {
        rest.strip_prefix(prefix)
            .is_some_and(|text| text.starts_with('"') || prefix.contains('r') && raw(text).is_some())
    });
    if let Some(prefix) = prefix {
        let text = &rest[prefix.len()..];
        let length = if prefix.contains('r') { raw(text)? } else { quoted(text, '"') };
        return Some(prefix.len() + length);
    }
    letter(rest)
}

/// Block comments nest.
fn block_comment(rest: &str) -> usize {
    let (mut depth, mut at) = (0, 0);
    while at < rest.len() {
        let step = match rest.as_bytes()[at..] {
            [b'/', b'*', ..] => {
                depth += 1;
                2
            }
            [b'*', b'/', ..] => {
                depth -= 1;
                2
            }
            _ => 1,
        };
        at += step;
        if depth == 0 {
            break;
        }
    }
    at
}

/// The length of a raw text after its `r`: as many `#` behind as before.
fn raw(text: &str) -> Option<usize> {
    let marks = text.len() - text.trim_start_matches('#').len();
    let end = format!("\"{}", "#".repeat(marks));
    let inside = text[marks..].strip_prefix('"')?;
    Some(marks + 1 + inside.find(&end)? + end.len())
}

/// The length of a text in quotes, with what a backslash takes along.
fn quoted(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            c if c == quote => return at + c.len_utf8(),
            _ => {}
        }
    }
    text.len()
}

/// The length of a letter in single quotes, or of a lifetime.
fn letter(rest: &str) -> Option<usize> {
    let inside = rest.strip_prefix('\'')?;
    let first = inside.chars().next()?;
    if first == '\\' || inside[first.len_utf8()..].starts_with('\'') {
        return Some(quoted(rest, '\''));
    }
    Some(1 + word(inside).unwrap_or(0))
}

/// Without the items under `#[cfg(test)]`: up to their `;` or the end of their braces.
fn without_tests(tokens: &[String]) -> Vec<String> {
    const MARK: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];
    let mut kept = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if tokens[at..].iter().zip(MARK).filter(|(token, mark)| token == mark).count() == MARK.len() {
            at += item_length(&tokens[at..]);
        } else {
            kept.push(tokens[at].clone());
            at += 1;
        }
    }
    kept
}

/// The length of an item: to a `;` or a closing brace outside all brackets.
fn item_length(tokens: &[String]) -> usize {
    let mut depth = 0;
    for (at, token) in tokens.iter().enumerate() {
        match token.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" => depth -= 1,
            "}" => {
                depth -= 1;
                if depth == 0 {
                    return at + 1;
                }
            }
            ";" if depth == 0 => return at + 1,
            _ => {}
        }
    }
    tokens.len()
}
