//! Text of others made fit to be shown: nothing in it moves a terminal's cursor or turns its direction, and it is not endless.

/// Most characters of a message or a remedy.
pub const MESSAGE_CHARS: usize = 600;

/// Most characters shown of a line of a file.
pub const LINE_CHARS: usize = 160;

/// What stands for what was cut out.
const CUT: char = '…';

/// Whether a character does something instead of being seen: controls, marks of direction, and what is invisible.
#[must_use]
pub fn acts(c: char) -> bool {
    let direction =
        matches!(c, '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let unseen = matches!(c, '\u{200b}'..='\u{200d}' | '\u{2028}' | '\u{2029}' | '\u{2060}'..='\u{2064}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}');
    c.is_control() || direction || unseen || is_noncharacter(c)
}

/// What Unicode keeps for nobody; no page that is to be read as XML may hold some of it.
fn is_noncharacter(c: char) -> bool {
    matches!(c, '\u{fdd0}'..='\u{fdef}') || u32::from(c) & 0xfffe == 0xfffe
}

/// Letters and marks that show nothing: fillers, selectors, joiners (Unicode, Default_Ignorable_Code_Point).
#[must_use]
pub fn shows_nothing(c: char) -> bool {
    matches!(c, '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}' | '\u{3164}')
        || matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{ffa0}' | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}

/// Whether a text of a file may stand on a page: in its lines everything is seen, but for the joiners some scripts write.
#[must_use]
pub fn is_plain(text: &str) -> bool {
    !text.contains(|c: char| acts(c) && !matches!(c, '\n' | '\t' | '\u{200c}' | '\u{200d}'))
}

/// A text of which every character is seen, line ends and tabs left: others are written as JSON writes them, `\u001b`.
#[must_use]
pub fn harmless(text: &str) -> std::borrow::Cow<'_, str> {
    let harmful = |c: char| acts(c) && c != '\n' && c != '\t';
    if !text.contains(harmful) {
        return text.into();
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if harmful(c) { shown += &format!("\\u{:04x}", u32::from(c)) } else { shown.push(c) }
    }
    shown.into()
}

/// At most so many characters of a text: beginning and end, and a mark between them.
#[must_use]
pub fn bounded(text: &str, most: usize) -> std::borrow::Cow<'_, str> {
    if text.len() <= most || text.chars().nth(most).is_none() {
        return text.into();
    }
    let (head, tail) = (most * 3 / 4, most / 4);
    let begin: String = text.chars().take(head).collect();
    let end: Vec<char> = text.chars().rev().take(tail).collect();
    let end: String = end.into_iter().rev().collect();
    format!("{begin} {CUT} {end}").into()
}

/// The part of a line about `column` (characters, from 1) of at most `most` characters, and where the column is in it.
#[must_use]
pub fn window(line: &str, column: usize, most: usize) -> (String, usize) {
    if line.len() <= most || line.chars().nth(most).is_none() {
        return (line.to_owned(), column);
    }
    let first = column.saturating_sub(most / 3).saturating_sub(1);
    let mut rest = line.chars().skip(first);
    let mut shown: String = if first > 0 { CUT.to_string() } else { String::new() };
    shown.extend(rest.by_ref().take(most));
    if rest.next().is_some() {
        shown.push(CUT);
    }
    (shown, column - first + usize::from(first > 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_acts_is_left() {
        assert_eq!(harmless("ä\t=\n"), "ä\t=\n");
        assert_eq!(harmless("\u{1b}[2J\u{202e}x\r"), "\\u001b[2J\\u202ex\\u000d");
        assert!(
            !harmless(&(0..0x3000).filter_map(char::from_u32).collect::<String>())
                .contains(|c| acts(c) && c != '\n' && c != '\t')
        );
    }

    #[test]
    fn long_text_keeps_its_beginning_and_its_end() {
        assert_eq!(bounded("abc", 3), "abc");
        let cut = bounded(&"ab".repeat(5000), 40).into_owned();
        assert!(cut.chars().count() == 43 && cut.starts_with("abab") && cut.ends_with("abab"));
    }

    #[test]
    fn a_long_line_is_shown_about_its_mark() {
        assert_eq!(window("short", 3, 10), ("short".to_owned(), 3));
        let line: String = (0..1000).map(|i| char::from(b'a' + (i % 26) as u8)).collect();
        for column in [1, 30, 500, 1000, 1001] {
            let (shown, at) = window(&line, column, 60);
            assert!(shown.chars().count() <= 62);
            assert_eq!(shown.chars().nth(at - 1).filter(|c| *c != CUT), line.chars().nth(column - 1), "{column}");
        }
    }
}
