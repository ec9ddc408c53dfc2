//! The report: whole, escaped, without network or script, and saying what it must.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::luck::Luck;
use analysis::report::{Compared, SeasonTold, compare_report, season_report};
use common::{compared, from, site};
use scenarios::SiteModel;

const NAMES: [&str; 3] = ["what-we-do-now", "all-open", "by-eye"];

fn page(edit: impl FnOnce(&mut SiteModel), draws: usize) -> String {
    let (model, library) = site(edit);
    let comparison = compared(&model, &NAMES, draws);
    let notes = [];
    compare_report(&Compared {
        model: &model,
        library: &library,
        comparison: &comparison,
        from: &from(),
        weather: None,
        notes: &notes,
    })
    .unwrap()
}

/// Every element that is opened is closed, in order; elements without content aside.
fn well_formed(page: &str) {
    let body = page.split_once("</style>").unwrap().1;
    let mut open: Vec<String> = vec!["html".into(), "head".into()];
    for piece in body.split('<').skip(1) {
        let tag = piece.split_once('>').expect("a tag ends").0;
        let name: String = tag.trim_start_matches('/').chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
        assert!(!name.is_empty(), "a bare < in {piece:.60}");
        if tag.starts_with('/') {
            assert_eq!(open.pop().as_deref(), Some(name.as_str()), "at {piece:.60}");
        } else if !tag.ends_with('/') && !["br", "meta"].contains(&name.as_str()) {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn the_report_is_one_whole_file_without_network_or_script() {
    let page = page(|_| (), 6);
    well_formed(&page);
    for no in ["http", "<script", "<link", "<img", "url(", "@import", "undominated", "NaN", "inf "] {
        assert!(!page.contains(no), "{no}");
    }
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(page.contains("@page") && page.contains("viewport"));
}

#[test]
fn names_are_escaped_wherever_they_stand() {
    let page = page(|model| model.base.plots[4].name = "plum <i>&".to_owned(), 3);
    well_formed(&page);
    assert!(!page.contains("<i>") && !page.contains("<b>"));
    assert!(page.contains("plum &lt;i&gt;&amp;") && page.contains("Hens &lt;b&gt;&amp;&quot; sward"));
}

#[test]
fn the_report_says_what_it_must() {
    let page = page(|_| (), 6);
    for name in NAMES {
        assert!(page.matches(name).count() > 4, "{name}");
    }
    for must in [
        "What would settle it",
        "How sure",
        "held in ",
        "of 10",
        "Only 6 possible years",
        "What was taken for granted",
        "Salmonella",
        "animal-health authority",
        "120 days",
        "7 CFR 205.203(c)",
        "unknown, not harmless",
        "not a promise",
        "ask a vet",
        "Digest of the inputs",
        "hensward 0.",
        "<title>",
    ] {
        assert!(page.contains(must), "{must}");
    }
    // Never promised: neither the page nor its charts call anything safe.
    let lower = page.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphabetic());
    assert!(words.into_iter().all(|word| word != "safe" && word != "safely"));
}

#[test]
fn the_same_inputs_give_the_same_page() {
    assert_eq!(page(|_| (), 3), page(|_| (), 3));
}

#[test]
fn a_waiting_rule_of_ones_own_is_told_with_its_reason() {
    let (mut model, library) = site(|_| ());
    model.base.rules.waiting_days_touching = 60;
    model.waiting_rule_reason = Some("composted & turned".to_owned());
    let cautions = analysis::report::cautions::of(&model, &library);
    let manure = &cautions[0].text;
    assert!(
        manure.contains("60 days") && manure.contains("composted & turned") && manure.contains("120 and 90"),
        "{manure}"
    );
}

#[test]
fn a_clear_winner_leads_the_page() {
    let page = page(|model| model.limits.all.clear(), 40);
    let head = page.split_once("</header>").unwrap().0;
    assert!(
        head.contains("gains most") || head.contains("too close to call") || head.contains("Nothing here gains"),
        "{head}"
    );
    assert!(page.contains("sets no limits"));
}

#[test]
fn a_season_has_its_page() {
    let (model, library) = site(|_| ());
    let draw = Luck { seed: 7 }.draw(&model, 0);
    let season = analysis::season::tell(&model, &draw, 1, None).unwrap();
    let page = season_report(&SeasonTold {
        model: &model,
        library: &library,
        draw: &draw,
        which: 1,
        season: &season,
        from: &from(),
    });
    well_formed(&page);
    assert!(page.contains("Diary") && !page.contains("http"));
}

#[test]
fn the_table_fits_eighty_columns() {
    let (model, _) = site(|_| ());
    let comparison = compared(&model, &NAMES, 4);
    let text = analysis::table::compare_table(&model, &comparison);
    assert!(text.lines().all(|line| line.chars().count() <= analysis::table::WIDTH), "{text}");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let verdict: Vec<&str> = comparison.verdict.text.split_whitespace().collect();
    assert!(flat.contains(&verdict.join(" ")), "{text}");
}
