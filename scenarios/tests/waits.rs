//! The keeper's own waits, windfalls, rules of countries, and birds kept apart before a harvest.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::{Library, SiteModel, site_file};

/// A site with trees, beds and a meadow, and newcomers kept apart.
const SITE: &str = r#"format = 2
latitude = "52 deg"
[run]
start = 2027-03-01
years = 2
[weather]
climate = "cool-maritime"
[yard]
area = "40 m2"
[birds.hens]
class = "layer"
number = 8
[birds.young]
class = "layer"
number = 3
arrive = 2028-06-20
isolate = { plot = "meadow", days = 30 }
[plot.orchard]
area = "150 m2"
soil = "loam"
cover = { plant = "rough grass" }
canopy = "plum trees"
fruit_harvest = ["08-01", "09-10"]
windfalls = "left"
[plot.beds]
area = "60 m2"
soil = "loam"
beds = 0.6
cover = { plant = "mown grass" }
[[plot.beds.crop]]
crop = "leek"
in_ground = ["06-01", "12-01"]
harvest = ["10-01", "12-01"]
[plot.meadow]
area = "400 m2"
soil = "loam"
cover = { plant = "grass and clover" }
"#;

fn read(changes: &[(&str, &str)]) -> Result<SiteModel, String> {
    let text = changes.iter().fold(SITE.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replacen(old, new, 1)
    });
    let library = Library::shipped().unwrap();
    site_file::read_text("site.toml", &text, &library, &|_| Err(String::new())).map_err(|faults| faults.to_string())
}

#[track_caller]
fn fault(changes: &[(&str, &str)], words: &[&str]) {
    let found = read(changes).unwrap_err();
    assert_eq!(found.matches("site.toml, line").count(), 1, "{found}");
    words.iter().for_each(|word| assert!(found.contains(word), "{word}:\n{found}"));
}

const PICKED: &str = "fruit_harvest = [\"08-01\", \"09-10\"]";
const LEEKS: &str = "harvest = [\"10-01\", \"12-01\"]";

/// The days of every harvest of a plot.
fn days(model: &SiteModel, plot: usize) -> Vec<(bool, u32)> {
    let rules = &model.base.rules;
    model.base.plots[plot].harvests().map(|harvest| (harvest.windfall, rules.waiting_days(harvest))).collect()
}

#[test]
fn days_of_ones_own_hold_for_their_harvest_and_no_other() {
    let fruit = format!("{PICKED}\nfruit_wait = {{ days = 30, reason = \" by hand \" }}");
    let leeks = format!("{LEEKS}\nwait = {{ days = \"20 weeks\" }}");
    let model = read(&[(PICKED, &fruit), (LEEKS, &leeks), ("\"left\"", "\"cooked\"")]).unwrap();
    assert_eq!((days(&model, 0), days(&model, 1)), (vec![(false, 30), (true, 120)], vec![(false, 140)]));
    let own = &model.base.rules.own_waits;
    assert_eq!(own.iter().map(|own| own.reason.as_deref()).collect::<Vec<_>>(), [Some("by hand"), None]);
    let several = "canopy = [{ plant = \"plum trees\", share = 0.5, harvest = [\"08-01\", \"09-10\"], wait = { days = 40, reason = \"x\" }, \
                   windfalls = \"eaten\" }, { plant = \"pear trees\", share = 0.5, harvest = [\"09-01\", \"10-01\"], windfalls = \"left\" }]";
    let one = format!("canopy = \"plum trees\"\n{PICKED}\nwindfalls = \"left\"");
    let model = read(&[(&one, several)]).unwrap();
    assert_eq!(days(&model, 0), [(false, 40), (true, 120), (false, 90)]);
}

#[test]
fn fewer_days_without_a_reason_are_an_error_with_the_whole_line() {
    let fruit = format!("{PICKED}\nfruit_wait = {{ days = 60, reason = \"  \" }}");
    let say = "Say why; it is repeated wherever the wait is told: fruit_wait = { days = 60, reason = \"all of it is cooked\" }";
    fault(&[(PICKED, &fruit)], &["line 24", "fruit_wait is 60 days, fewer than the rule of 90, without a reason", say]);
    let leeks = format!("{LEEKS}\nwait = {{ days = 100 }}");
    fault(&[(LEEKS, &leeks)], &["wait is 100 days, fewer than the rule of 120", ": wait = { days = 100, reason"]);
    // The rule left is that of the country that is named.
    let country = "[rules]\ncountry = \"UK\"\n[plot.orchard]";
    let fruit = format!("{PICKED}\nfruit_wait = {{ days = 100 }}");
    fault(&[(PICKED, &fruit), ("[plot.orchard]", country)], &["fruit_wait is 100 days, fewer than the rule of 123"]);
}

#[test]
fn waits_and_windfalls_belong_to_a_harvest() {
    let wait = "fruit_wait = { days = 100 }";
    fault(&[(PICKED, wait)], &["fruit_wait without fruit_harvest", "fruit_harvest = [\"08-01\""]);
    fault(&[(PICKED, ""), ("\"left\"", "\"eaten\"")], &["windfalls without fruit_harvest"]);
    fault(&[("\"left\"", "\"sold\"")], &["windfalls cannot be \"sold\""]);
    let no_trees = format!("canopy = \"plum trees\"\n{PICKED}\n");
    fault(&[(&no_trees, "")], &["windfalls without a canopy", "canopy = \"plum trees\""]);
    let leeks = "wait = { days = 130 }";
    fault(&[(LEEKS, leeks)], &["wait without harvest"]);
}

/// Windfalls have days of their own beside those of the fruit from the tree; without any they keep the rule's.
#[test]
fn windfalls_wait_days_of_their_own() {
    let cooked = "\"cooked\"\nwindfall_wait = { days = 80, reason = \"boiled\" }";
    let fruit = format!("{PICKED}\nfruit_wait = {{ days = 30, reason = \"by hand\" }}");
    let model = read(&[("\"left\"", cooked)]).unwrap();
    assert_eq!(days(&model, 0), [(false, 90), (true, 80)]);
    let model = read(&[(PICKED, &fruit), ("\"left\"", cooked)]).unwrap();
    assert_eq!(days(&model, 0), [(false, 30), (true, 80)]);
    let several = "canopy = [{ plant = \"plum trees\", share = 0.5, harvest = [\"08-01\", \"09-10\"], windfalls = \"eaten\", \
                   windfall_wait = { days = 130 } }, { plant = \"pear trees\", share = 0.5, harvest = [\"09-01\", \"10-01\"], windfalls = \"eaten\" }]";
    let one = format!("canopy = \"plum trees\"\n{PICKED}\nwindfalls = \"left\"");
    let model = read(&[(&one, several)]).unwrap();
    assert_eq!(days(&model, 0), [(false, 90), (true, 130), (false, 90), (true, 120)]);
    let short = "\"eaten\"\nwindfall_wait = { days = 100 }";
    let say = "windfall_wait = { days = 100, reason = \"all of it is cooked\" }";
    fault(&[("\"left\"", short)], &["windfall_wait is 100 days, fewer than the rule of 120, without a reason", say]);
    let nobody = "\"left\"\nwindfall_wait = { days = 130 }";
    fault(&[("\"left\"", nobody)], &["windfall_wait without windfalls that are eaten", "windfalls = \"cooked\""]);
}

/// A country's days are taken and named; days in the file come first, and fewer than its rule want a reason.
#[test]
fn the_rule_of_a_country_is_taken() {
    let with = |lines: &str| read(&[("[plot.orchard]", &format!("[rules]\n{lines}\n[plot.orchard]"))]);
    let both = |model: &SiteModel| (model.base.rules.waiting_days_touching, model.base.rules.waiting_days_other);
    let kingdom = with("country = \"England\"").unwrap();
    assert_eq!(both(&kingdom), (123, 123));
    let whose = |model: &SiteModel| [true, false].map(|soil| model.waiting_rule(soil).map(|rule| rule.country.clone()));
    assert_eq!(whose(&kingdom), [const { "United Kingdom" }; 2].map(|name| Some(name.to_owned())));
    // Of a list the longest counts, whichever is first; a country without known days is no shorter than without any.
    for list in ["[\"Ireland\", \"UK\", \"Canada\"]", "[\"Canada\", \"UK\", \"Scotland\", \"India\"]"] {
        let both_lands = with(&format!("country = {list}")).unwrap();
        assert_eq!((both(&both_lands), whose(&both_lands)), ((123, 123), whose(&kingdom)), "{list}");
    }
    let unknown = with("country = [\"Ireland\", \"India\"]").unwrap();
    assert_eq!((both(&unknown), whose(&unknown), unknown.rules_that_count().len()), ((120, 90), [None, None], 2));
    let wrong = with("country = [\"Ireland\", \"Untied Kingdom\"]").unwrap_err();
    assert!(wrong.contains("column 23") && wrong.contains("United Kingdom"), "{wrong}");
    assert_eq!(both(&with("country = \"India\"").unwrap()), (120, 90));
    let longer = with("country = \"Canada\"\nwaiting_days_other = \"120 days\"").unwrap();
    assert_eq!(both(&longer), (120, 120));
    let shorter = with("country = \"UK\"\nwaiting_days_other = \"100 days\"").unwrap_err();
    assert!(shorter.contains("waiting_days_other is 100 days, shorter than the rule of 123"), "{shorter}");
    let unknown = with("country = \"Untied Kingdom\"").unwrap_err();
    assert!(unknown.contains("there is no waiting rule of \"Untied Kingdom\"") && unknown.contains("United Kingdom"));
}

/// Every rule of the library has its source, and the page of the format names its country.
#[test]
fn every_country_is_named_in_the_format() {
    let page = include_str!("../src/site_file/format.md");
    for rule in Library::shipped().unwrap().waiting_rules() {
        assert!(page.contains(&format!("\"{}\"", rule.country)), "{}", rule.country);
        assert!(!rule.source.is_empty() && (rule.days.is_some() || rule.status == "none known"), "{}", rule.country);
    }
}

/// Plums are picked from 1 August: 90 days before, on 3 May, birds may be in for the last time.
#[test]
fn birds_kept_apart_wait_as_all_others() {
    let at = |plot: &str, arrive: &str, days: u32| {
        let isolate = format!("{{ plot = \"{plot}\", days = {days} }}");
        [("2028-06-20".to_owned(), arrive.to_owned()), ("{ plot = \"meadow\", days = 30 }".to_owned(), isolate)]
    };
    fn changes(pair: &[(String, String)]) -> Vec<(&str, &str)> {
        pair.iter().map(|(old, new)| (old.as_str(), new.as_str())).collect()
    }
    let summer = at("orchard", "2028-06-20", 30);
    let told = [
        "the young are kept apart in orchard from 2028-06-20 to 2028-07-19, and plum trees there are picked from 2028-08-01 to 2028-09-10: 90 days before it birds must be out, from 2028-05-04 on",
        "Isolate them in meadow, which is free on those days, or at another time; or give that harvest days of its own, with your reason: fruit_wait = { days = 13, reason = \"…\" }",
    ];
    fault(&changes(&summer), &told);
    // Days of its own with a reason allow it: out on 19 July, picked 13 days later.
    let mut own = changes(&summer);
    let (fruit, short) =
        [13, 14].map(|days| format!("{PICKED}\nfruit_wait = {{ days = {days}, reason = \"x\" }}")).into();
    own.push((PICKED, &fruit));
    assert!(read(&own).is_ok());
    own[2].1 = &short;
    assert!(read(&own).is_err());
    // 30 days from 4 April end on 3 May, a day later they do not; during picking no wait helps.
    assert!(read(&changes(&at("orchard", "2028-04-04", 30))).is_ok());
    fault(&changes(&at("orchard", "2028-04-05", 30)), &["from 2028-05-04 on"]);
    let picking = read(&changes(&at("orchard", "2028-08-20", 30))).unwrap_err();
    assert!(picking.ends_with("or at another time."), "{picking}");
    // Where crops stand or wait everywhere else, there is no plot to name.
    let mut nowhere = changes(&summer);
    nowhere.push(("[plot.meadow]\narea = \"400 m2\"\nsoil = \"loam\"\ncover = { plant = \"grass and clover\" }\n", ""));
    fault(&nowhere, &["No plot is free on all those days"]);
}
