//! Every proposal works: a file with a slip in it, and what the fault proposes put in its place, no longer has that fault.
#![allow(clippy::unwrap_used)]

mod common;

use common::slips::{SITES, faults, lines, slips, with};
use scenarios::Fault;
use std::collections::BTreeSet;

/// What a remedy proposes, and whether it is a whole line.
fn proposal(remedy: &str) -> Option<(String, bool)> {
    let at = ["Did you mean ", "did you mean "].iter().find_map(|words| Some(remedy.find(words)? + words.len()))?;
    let rest = &remedy[at..];
    if let Some(rest) = rest.strip_prefix('"') {
        return Some((rest.split("\"?").next()?.to_owned(), false));
    }
    let told = rest.split('?').next()?;
    Some((told.to_owned(), told.contains(" = ")))
}

/// The text with the proposal in the place of what it is for.
fn mended(text: &str, fault: &Fault, new: &str, line: bool) -> String {
    let span = fault.place.span.clone();
    if line {
        let start = text[..span.start].rfind('\n').map_or(0, |at| at + 1);
        let end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        return with(text, start..end, new);
    }
    let old = &text[span.clone()];
    let quoted = old.starts_with('"') && !new.starts_with('"');
    with(text, span, &if quoted { format!("\"{new}\"") } else { new.to_owned() })
}

#[test]
fn every_proposal_mends_what_it_is_for() {
    let (mut tried, mut useless, mut without) = (0, BTreeSet::new(), 0);
    for (name, text) in SITES {
        assert!(faults(text).is_empty(), "{name}");
        for (line, value) in lines(text) {
            for spoilt in slips(text, &line, value.as_ref()) {
                for fault in faults(&spoilt) {
                    assert!(!fault.remedy.is_empty() && fault.remedy.len() < 900, "{fault}");
                    let Some((new, whole_line)) = proposal(&fault.remedy) else {
                        without += 1;
                        continue;
                    };
                    tried += 1;
                    let mended = mended(&spoilt, &fault, &new, whole_line);
                    let place = (fault.place.line, &fault.message);
                    if faults(&mended).iter().any(|left| (left.place.line, &left.message) == place) {
                        useless.insert(format!("{name}: {fault}"));
                    }
                }
            }
        }
    }
    println!("{tried} proposals tried, {} of no use, {without} faults without one", useless.len());
    assert!(tried > 1000, "{tried}");
    assert!(useless.is_empty(), "{}", useless.into_iter().take(12).collect::<Vec<_>>().join("\n\n"));
}
