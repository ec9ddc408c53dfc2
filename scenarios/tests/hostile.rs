//! Hostile input, kept for ever, each with what it is answered: `hostile/answers.txt`; `REWRITE=1` writes it anew, to be read.
#![allow(clippy::unwrap_used)]

mod common;

use common::slips::{SITES, faults, lines, slips};
use std::fmt::Write as _;

/// Every so manieth slip of every site: some hundreds in all.
const EVERY: usize = 8;

/// Most characters of an answer, however bad the file.
const LONGEST_ANSWER: usize = 100_000;

/// Files that are wrong as a whole, made by hand: name and text.
fn whole_files() -> Vec<(&'static str, String)> {
    let site = SITES[2].1;
    let weed = "{ plant = \"chickweed\", seeds = \"100 per m2\" }, ";
    let weeds = |count: usize| site.replacen("weeds = [ ", &format!("weeds = [ {}", weed.repeat(count)), 1);
    let plot = |name: &str| site.replace("[plot.lawn]", &format!("[plot.\"{name}\"]"));
    let replaced = |from: &str, to: &str| {
        assert!(site.contains(from), "{from}");
        site.replacen(from, to, 1)
    };
    let area = |area: &str| replaced("\"34 m2\"", &format!("\"{area}\""));
    let strategy = |line: &str| format!("{site}[strategy.another]\nall_open = {{}}\n{line}\n");
    let event = "[[event]]\non = 2027-03-01\nwhat = \"shut gate\"\nplot = \"lawn\"\n";
    let chain: String = (0..400)
        .map(|i| format!("[strategy.s{i}]\nweather = {{ shade_above = \"30 C\", else = \"s{}\" }}\n", (i + 1) % 400))
        .collect();
    vec![
        ("empty", String::new()),
        ("one brace", "{".to_owned()),
        ("no toml", "birds: 12\nplots:\n  - lawn\n".to_owned()),
        ("a page", "<html><body>not a site</body></html>".to_owned()),
        ("zeros", "\0".repeat(5000)),
        ("byte-order mark", format!("\u{feff}{site}")),
        ("5000 lists in each other", format!("a = {}{}\n{site}", "[".repeat(5000), "]".repeat(5000))),
        ("5000 tables in each other", format!("[{}]\n", ["a"; 5000].join("."))),
        ("20000 unknown keys", (0..20_000).map(|i| format!("k{i} = 1\n")).collect::<String>() + site),
        ("999 weeds of one kind", weeds(998)),
        ("5000 weeds of one kind", weeds(5000)),
        ("5000 events", format!("{site}{}", event.repeat(5000))),
        ("400 strategies in a ring", format!("{site}{chain}")),
        ("a name of 50000 letters", plot(&"x".repeat(50_000))),
        ("a name that moves the cursor", plot("\\u001b[2Jx")),
        ("a name that turns its direction", plot("a\\u202eb")),
        ("a name that is a formula", plot("=1+1")),
        ("a name of a path", plot("../../etc")),
        ("a name of markup", plot("<script>alert(1)</script>")),
        ("an empty name", plot("")),
        ("a comment of 800000 letters", format!("# {}\n{site}", "x".repeat(800_000))),
        ("a line of 800000 letters", format!("name = \"{}\"\n{site}", "x".repeat(800_000))),
        ("a number of 5000 digits", site.replacen("years = 3", &format!("years = {}", "9".repeat(5000)), 1)),
        ("no finite number", site.replacen("years = 3", "years = inf", 1)),
        ("no number at all", site.replacen("years = 3", "years = nan", 1)),
        ("a year far off", site.replacen("start = 2027-02-01", "start = 9999-12-31", 1)),
        ("a year long gone", site.replacen("start = 2027-02-01", "start = 0000-01-01", 1)),
        ("31 years", site.replacen("years = 3", "years = 31", 1)),
        ("the pole", site.replacen("53.2 deg", "90 deg", 1)),
        ("an area with one side", area("34 x ft")),
        ("an area of negative sides", area("-3 x -4 m")),
        ("an area of nought by four", area("0 x 4 m")),
        ("a unit without a number", area("ha")),
        ("hours for days", replaced("bare_days = 30", "bare_days = \"3 h\"\nyard_days = \"90 min\"")),
        ("days for hours of work", replaced("\"1 h per h\"", "\"1 h per day\"")),
        ("a latitude of the east", replaced("latitude = \"", "latitude = \"51 E\" # ")),
        ("a longitude of the north", replaced("\"-2.6 deg\"", "\"5 N\"")),
        ("nobody let through", strategy("birds = 0")),
        ("a bird and a half let through", strategy("birds = 1.5")),
        ("a site's name with a nought byte", replaced("name = \"", "name = \"\\u0000")),
        ("a text that clears the screen", strategy("hours = \"\\u001b[2J\"")),
        ("a text that is no character", strategy("hours = \"\\uffff\"")),
        ("a bed whose name shows nothing", format!("{site}[plot.lawn.bed.\"\\u3164\"]\n")),
        ("an own cover called a formula", format!("{site}[library.cover.\"=1+1\"]\nlike = \"mown grass\"\n")),
        ("an own climate called a path", format!("{site}[library.climate.\"../x\"]\nabout = \"x\"\n")),
        ("a gap longer than any that is filled", replaced("[weather]", "[weather]\nfill_gaps = \"11 days\"")),
    ]
}

/// The first faults of a text, and how many there are.
fn answer(text: &str) -> String {
    let found = faults(text);
    let all: usize = found.iter().map(|fault| fault.to_string().len()).take(40).sum();
    assert!(all < LONGEST_ANSWER, "{all} letters");
    assert!(found.iter().all(|fault| !fault.remedy.is_empty() && !fault.message.is_empty()));
    let mut told = format!("{} found\n", found.len());
    for fault in found.iter().take(2) {
        let place = &fault.place;
        writeln!(told, "  {}:{} {:?} {} | {}", place.line, place.column, fault.severity, fault.message, fault.remedy)
            .unwrap();
    }
    told
}

#[test]
fn every_hostile_file_is_answered_as_it_was() {
    let mut answers = String::new();
    let mut count = 0;
    for (name, text) in whole_files() {
        write!(answers, "{name}: {}", answer(&text)).unwrap();
        count += 1;
    }
    for (site, text) in SITES {
        let all = lines(text);
        let slips = all.iter().flat_map(|(line, value)| {
            let number = text[..line.start].matches('\n').count() + 1;
            slips(text, line, value.as_ref()).into_iter().enumerate().map(move |(at, text)| (number, at, text))
        });
        for (line, at, spoilt) in slips.step_by(EVERY) {
            write!(answers, "{site}, line {line}, slip {at}: {}", answer(&spoilt)).unwrap();
            count += 1;
        }
    }
    assert!(count >= 400, "{count}");
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/hostile/answers.txt");
    if std::env::var_os("REWRITE").is_some() {
        std::fs::create_dir_all(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/hostile")).unwrap();
        std::fs::write(path, &answers).unwrap();
    }
    let stands = std::fs::read_to_string(path).unwrap_or_default();
    let differs = stands.lines().zip(answers.lines()).find(|(was, is)| was != is);
    assert!(stands == answers, "answers changed, read them and write them anew with REWRITE=1: {differs:?}");
}
