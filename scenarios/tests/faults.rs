//! Every class of fault: its place, what is wrong, what would be right.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::{Library, SiteModel, site_file};
use sim_engine::measures::Measure;
use std::sync::OnceLock;

/// A small site without a fault; tests change one thing.
const SMALL: &str = r#"format = 2
name = "Small"
latitude = "52 deg"
[run]
start = 2027-03-01
years = 1
[weather]
climate = "cool-maritime"
[yard]
area = "40 m2"
[birds.hens]
class = "layer"
number = 10
[plot.orchard]
area = "100 m2"
soil = "loam"
cover = { plant = "mown grass", start = 0.9 }
[plot.beds]
area = "64 m2"
soil = "loam"
beds = 0.6
cover = { plant = "mown grass", start = 0.9 }
[[plot.beds.crop]]
crop = "leek"
in_ground = ["06-01", "12-01"]
harvest = ["10-01", "12-01"]
[strategy.turn]
fixed_turn = { order = ["orchard", "beds"], stay = "14 days" }
"#;

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

fn read_with(text: &str, companion: &str) -> Result<SiteModel, String> {
    let none = companion.is_empty();
    let companions = |_: &str| if none { Err("there is no such file".to_owned()) } else { Ok(companion.to_owned()) };
    site_file::read_text("small.toml", text, library(), &companions).map_err(|faults| faults.to_string())
}

/// The faults of the small site with one piece replaced.
#[track_caller]
fn faults(old: &str, new: &str) -> String {
    assert!(SMALL.contains(old), "{old}");
    read_with(&SMALL.replace(old, new), "").unwrap_err()
}

#[track_caller]
fn same(found: String, wanted: &str) {
    assert_eq!(found, wanted, "\nfound:\n{found}\n");
}

#[test]
fn the_small_site_itself_has_none() {
    let model = read_with(SMALL, "").unwrap();
    assert_eq!(model.warnings, []);
    assert!(model.defaults.iter().any(|default| default.key == "plot.orchard.irrigation"));
}

#[test]
fn an_empty_file() {
    let wanted = "small.toml: the file is empty\n  Begin with a starter: hensward new my-garden";
    same(read_with("", "").unwrap_err(), wanted);
    same(read_with(" \n\n", "").unwrap_err(), wanted);
}

#[test]
fn a_file_that_is_not_toml() {
    let found = read_with("hello world\n", "").unwrap_err();
    same(
        found,
        "small.toml, line 1, column 7: key with no value, expected `=`\n    1 | hello world\n      |       ^\n  If it is a note for people, write # before it: # hello world. Correct this line first; then the rest is checked.",
    );
}

#[test]
fn a_file_that_is_not_there() {
    let found = site_file::read(std::path::Path::new("nowhere/site.toml"), library()).unwrap_err().to_string();
    same(
        found,
        "nowhere/site.toml: cannot be read: there is no such file\n  Give the path of a site file, or the name of a demo site such as sallowmere",
    );
}

#[test]
fn a_wrong_unit() {
    same(
        faults("\"100 m2\"", "\"100 kg\""),
        "small.toml, line 15, column 8: area: \"kg\" does not measure an area\n   15 | area = \"100 kg\"\n      |        ^^^^^^^^\n  Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".",
    );
}

#[test]
fn a_number_without_unit() {
    same(
        faults("\"100 m2\"", "100"),
        "small.toml, line 15, column 8: area is 100 without a unit\n   15 | area = 100\n      |        ^^^\n  Write it in quotes with its unit. Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".",
    );
}

#[test]
fn negative_nan_and_infinite_areas() {
    same(
        faults("\"100 m2\"", "\"-5 m2\""),
        "small.toml, line 15, column 8: area is -5 m2, which is out of range\n   15 | area = \"-5 m2\"\n      |        ^^^^^^^\n  A plot is 4 m2 to 1 ha.",
    );
    same(
        faults("\"100 m2\"", "nan"),
        "small.toml, line 15, column 8: area is not a finite number\n   15 | area = nan\n      |        ^^^\n  A plot is 4 m2 to 1 ha.",
    );
    same(
        faults("\"100 m2\"", "\"inf m2\""),
        "small.toml, line 15, column 8: area: \"inf\" is not a finite number\n   15 | area = \"inf m2\"\n      |        ^^^^^^^^\n  Use m2, ha, ft2, sq yd or ac, for example \"64 m2\".",
    );
}

#[test]
fn no_plots() {
    let start = SMALL.find("[plot.orchard]").unwrap();
    let found = read_with(&SMALL[..start], "").unwrap_err();
    same(
        found,
        "small.toml, line 1, column 1: there are no plots\n    1 | format = 2\n      | ^\n  Add at least one, for example: [plot.orchard]",
    );
}

#[test]
fn ten_thousand_plots() {
    let mut text = SMALL.to_owned();
    for plot in 0..10_000 {
        text.push_str(&format!(
            "[plot.p{plot}]\narea = \"20 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\n"
        ));
    }
    let begun = std::time::Instant::now();
    same(
        read_with(&text, "").unwrap_err(),
        "small.toml, line 117, column 7: there are 10002 plots\n  117 | [plot.p22]\n      |       ^^^\n  A site has 1 to 24 plots.",
    );
    assert!(begun.elapsed().as_secs_f64() < 2.0);
}

#[test]
fn a_date_that_does_not_exist() {
    same(
        faults("[\"06-01\", \"12-01\"]", "[\"02-30\", \"12-01\"]"),
        "small.toml, line 25, column 14: in_ground: 02-30 does not exist\n   25 | in_ground = [\"02-30\", \"12-01\"]\n      |              ^^^^^^^\n  February has 29 days.",
    );
    let found = faults("start = 2027-03-01", "start = \"2027-02-30\"");
    same(
        found,
        "small.toml, line 5, column 9: start: 2027-02-30 does not exist\n    5 | start = \"2027-02-30\"\n      |         ^^^^^^^^^^^^\n  February has 28 days.",
    );
    assert!(faults("start = 2027-03-01", "start = 2027-02-30").starts_with("small.toml, line 5, column "));
}

#[test]
fn a_crop_that_ends_before_it_starts() {
    let found = faults(
        "in_ground = [\"06-01\", \"12-01\"]\nharvest = [\"10-01\", \"12-01\"]",
        "in_ground = [\"2027-06-01\", \"2027-05-01\"]",
    );
    same(
        found,
        "small.toml, line 25, column 13: in_ground: ends 2027-05-01, before it starts 2027-06-01\n   25 | in_ground = [\"2027-06-01\", \"2027-05-01\"]\n      |             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^\n  Put the earlier date first.",
    );
}

#[test]
fn a_harvest_outside_the_time_in_the_ground() {
    same(
        faults("harvest = [\"10-01\"", "harvest = [\"05-01\""),
        "small.toml, line 26, column 11: harvest 05-01 to 12-01 is not within in_ground 06-01 to 12-01\n   26 | harvest = [\"05-01\", \"12-01\"]\n      |           ^^^^^^^^^^^^^^^^^^\n  Harvest while the crop is in the ground.",
    );
}

#[test]
fn crops_that_overlap_in_a_bed() {
    let second = "[[plot.beds.crop]]\ncrop = \"lettuce\"\nin_ground = [\"11-01\", \"02-01\"]\n[strategy.turn]";
    same(
        faults("[strategy.turn]", second),
        "small.toml, line 27, column 1: lettuce is in the ground while leek still is, in the same bed\n   27 | [[plot.beds.crop]]\n      | ^^^^^^^^^^^^^^^^^^\n  Change the dates, or give each a bed of its own, for example: bed = \"north\"",
    );
    let own_bed = second.replace("crop = ", "bed = \"north\"\ncrop = ");
    let model = read_with(&SMALL.replace("[strategy.turn]", &own_bed), "").unwrap();
    let shares: Vec<f64> = model.base.plots[1].grounds.iter().map(|ground| ground.share).collect();
    assert_eq!(shares, [0.4, 0.3, 0.3]);
}

#[test]
fn a_strategy_naming_an_unknown_plot() {
    same(
        faults("[\"orchard\", \"beds\"]", "[\"orchrad\", \"beds\"]"),
        "small.toml, line 28, column 25: there is no plot \"orchrad\"\n   28 | fixed_turn = { order = [\"orchrad\", \"beds\"], stay = \"14 days\" }\n      |                         ^^^^^^^^^\n  Did you mean \"orchard\"?",
    );
}

#[test]
fn strategies_that_name_themselves() {
    let itself = format!("{SMALL}[strategy.tidy]\nbetween_crops = {{ stay = \"7 days\", else = \"tidy\" }}\n");
    same(
        read_with(&itself, "").unwrap_err(),
        "small.toml, line 30, column 43: strategy \"tidy\" names itself\n   30 | between_crops = { stay = \"7 days\", else = \"tidy\" }\n      |                                           ^^^^^^\n  Name a strategy that does not lead back here.",
    );
    let circle = format!("{SMALL}[strategy.a]\nlayered = [\"b\"]\n[strategy.b]\nlayered = [\"turn\", \"a\"]\n");
    let found = read_with(&circle, "").unwrap_err();
    assert!(found.contains("line 30, column 12: strategy \"a\" comes back to itself: a -> b -> a"), "{found}");
    assert!(found.contains("line 32, column 20: strategy \"b\" comes back to itself: b -> a -> b"), "{found}");
}

#[test]
fn latitude_ninety_five() {
    same(
        faults("52 deg", "95 deg"),
        "small.toml, line 3, column 12: latitude is 95 deg, which is out of range\n    3 | latitude = \"95 deg\"\n      |            ^^^^^^^^\n  A latitude is -65 to 65 deg, south negative.",
    );
}

#[test]
fn unknown_keys_and_names() {
    same(
        faults("beds = 0.6", "beds = 0.6\ngaurds = []"),
        "small.toml, line 22, column 1: [plot.beds] has no key \"gaurds\"\n   22 | gaurds = []\n      | ^^^^^^\n  Did you mean \"guards\"?",
    );
    same(
        faults("crop = \"leek\"", "crop = \"leak\""),
        "small.toml, line 24, column 8: there is no crop \"leak\"\n   24 | crop = \"leak\"\n      |        ^^^^^^\n  Did you mean \"leek\"?",
    );
}

#[test]
fn all_faults_come_at_once_in_the_order_of_lines() {
    let text = SMALL
        .replace("52 deg", "95 deg")
        .replace("number = 10", "number = 3000")
        .replace("0.6", "6")
        .replace("\"leek\"", "\"lek\"");
    let found = read_with(&text, "").unwrap_err();
    let lines: Vec<&str> = found.lines().filter(|line| line.starts_with("small.toml")).collect();
    assert_eq!(
        lines,
        [
            "small.toml, line 3, column 12: latitude is 95 deg, which is out of range",
            "small.toml, line 13, column 10: number is 3000, which is out of range",
            "small.toml, line 21, column 8: beds is 6, which is out of range",
            "small.toml, line 24, column 8: there is no crop \"lek\"",
        ]
    );
}

#[test]
fn a_shorter_waiting_period_wants_a_reason() {
    let rules = "[rules]\nwaiting_days_touching = \"60 days\"\n[strategy.turn]";
    same(
        faults("[strategy.turn]", rules),
        "small.toml, line 28, column 25: waiting_days_touching is 60 days, shorter than the rule of 120\n   28 | waiting_days_touching = \"60 days\"\n      |                         ^^^^^^^^^\n  Say why: waiting_rule_reason = \"…\"; it is printed on every sheet.",
    );
    let told = rules.replace("[rules]", "[rules]\nwaiting_rule_reason = \"cooked only\"");
    let model = read_with(&SMALL.replace("[strategy.turn]", &told), "").unwrap();
    assert_eq!(model.base.rules.waiting_days_touching, 60);
    assert_eq!(model.waiting_rule_reason.as_deref(), Some("cooked only"));
}

#[test]
fn a_dated_file_that_is_missing() {
    let dated = "[strategy.dates]\ndated = { file = \"gates.csv\" }\n[strategy.turn]";
    same(
        faults("[strategy.turn]", dated),
        "small.toml, line 28, column 18: cannot read \"gates.csv\": there is no such file\n   28 | dated = { file = \"gates.csv\" }\n      |                  ^^^^^^^^^^^\n  Put the file beside the site file, or correct its name.",
    );
}

#[test]
fn letters_in_a_station_file() {
    let text = SMALL.replace("climate = \"cool-maritime\"", "station = \"days.csv\"");
    let found = read_with(&text, "date,tmin[C],tmax[C],rain[mm]\n2020-01-01,1,8,0\n2020-01-02,cold,8,0\n").unwrap_err();
    same(
        found,
        "days.csv, line 3, column 1: tmin is \"cold\", which is not a number\n    3 | 2020-01-02,cold,8,0\n      | ^^^^^^^^^^^^^^^^^^^\n  Leave the cell empty where nothing was measured.",
    );
}

#[test]
fn a_station_file_too_short_to_use() {
    let text = SMALL.replace("climate = \"cool-maritime\"", "station = \"days.csv\"\nuse = \"years\"");
    let found = read_with(&text, "date,tmin[C],tmax[C],rain[mm]\n2020-01-01,1,8,0\n2020-01-02,1,8,0\n").unwrap_err();
    assert!(found.starts_with("small.toml, line 8, column 11: days.csv: "), "{found}");
    // A generator wants two years too: it is no way out.
    assert!(found.ends_with("Give a longer file, two years at least; or take a climate of the library."), "{found}");
}

#[test]
fn a_keepers_range_out_of_order_or_of_nothing() {
    let unsure = "[unsure]\n\"house.night_share\" = [0.5, 0.4, 0.6]\n\"house.day_share\" = [0, 1]\n[strategy.turn]";
    let found = faults("[strategy.turn]", unsure);
    assert!(found.contains("line 28, column 23: 0.5, 0.4, 0.6 are not in order"), "{found}");
    assert!(found.contains("line 29, column 1: nothing here is called \"house.day_share\""), "{found}");
    assert!(found.contains("Did you mean \"house.night_share\"?"), "{found}");
}

#[test]
fn entries_of_the_site_itself() {
    let own = r#"[library.pest."my beetle"]
like = "plum sawfly"
[library.pest."my beetle".numbers]
search_soil = { value = 0.7, low = 0.7, high = 0.7, unit = "m2/bird-day", source = "my count", kind = "from memory" }
[[plot.orchard.pest]]
species = "my beetle"
start = "3 per m2"
[strategy.turn]"#;
    let model = read_with(&SMALL.replace("[strategy.turn]", own), "").unwrap();
    assert_eq!(model.base.pests[0].name, "my beetle");
    assert_eq!(model.base.pests[0].params.search_soil, 0.7);
    assert!(!model.unknowns.iter().any(|unknown| unknown.name == "pest.my beetle.search_soil"));
    let against = own.replace("memory\" }", "memory\", tie = \"against base_temperatur\" }");
    let found = faults("[strategy.turn]", &against);
    assert!(found.contains("there is no number \"base_temperatur\" to be drawn against"), "{found}");
    assert!(found.contains("Did you mean \"base_temperature\"?"), "{found}");
    let circle = own.replace("plum sawfly", "my beetle");
    let found = faults("[strategy.turn]", &circle);
    assert!(found.contains("\"my beetle\" is like itself, in a circle"), "{found}");
}

#[test]
fn the_southern_hemisphere_has_its_summer_in_january() {
    let north = read_with(SMALL, "").unwrap();
    let south = read_with(&SMALL.replace("52 deg", "-52 deg"), "").unwrap();
    let january = |model: &SiteModel| {
        let days = model.weather.draw(1, 0, jiff::civil::date(2027, 1, 1), 31);
        days.iter().map(sim_engine::weather::DayWeather::tmean_c).sum::<f64>() / 31.0
    };
    assert!(january(&south) > january(&north) + 5.0);
}

#[test]
fn what_a_keeper_calls_it_is_told_by_our_name_or_by_its_kin() {
    let crop = |name: &str| faults("crop = \"leek\"", &format!("crop = \"{name}\""));
    let read = read_with(&SMALL.replace("crop = \"leek\"", "crop = \"zucchini\""), "").unwrap();
    assert_eq!((&*read.names_read[0].written, &*read.names_read[0].entry), ("zucchini", "courgette"));
    assert!(crop("beans").contains("can mean more than one thing"), "{}", crop("beans"));
    let strange = crop("vanilla orchid");
    assert!(strange.contains("All of them: hensward sources."), "{strange}");
    assert!(strange.ends_with("with like = the one most like it."), "{strange}");
}

#[test]
fn a_climate_of_the_site_itself() {
    let north = library().climate("continental").unwrap();
    let own = scenarios::library::climate_text("library.climate", "our valley", north);
    let text = format!("{}{own}", SMALL.replace("cool-maritime", "our valley"));
    let model = read_with(&text, "").unwrap();
    let start = jiff::civil::date(2027, 3, 1);
    assert_eq!(model.weather.draw(1, 0, start, 40), north.climate.draw(1, 0, start, 40));
    let found = faults("cool-maritime", "cool maritim");
    assert!(found.contains("there is no climate \"cool maritim\""), "{found}");
    assert!(found.contains("Did you mean \"cool-maritime\"?"), "{found}");
}

#[test]
fn names_that_cannot_be_printed() {
    let found = faults("[plot.orchard]", "[plot.\"or,chard\"]");
    assert!(found.contains("\"or,chard\" cannot be the name of a plot"), "{found}");
}

#[test]
fn a_keepers_range_in_us_units() {
    let unsure = "[unsure]\n\"soil.loam.saturation_room\" = [\"1 in\", \"2 in\", \"4 in\"]\n[strategy.turn]";
    let model = read_with(&SMALL.replace("[strategy.turn]", unsure), "").unwrap();
    let room = model.unknowns.iter().find(|unknown| unknown.name == "soil.loam.saturation_room").unwrap();
    assert!((room.low - 25.4).abs() < 1e-9 && (room.high - 101.6).abs() < 1e-9, "{room:?}");
    assert!(faults("[strategy.turn]", &unsure.replace("1 in", "1 lb")).contains("\"1 lb\" is not in mm"));
}

/// The small site with aims and prices of its own.
fn priced(tables: &str) -> Result<SiteModel, String> {
    read_with(&format!("{SMALL}\n{tables}\n"), "")
}

#[test]
fn worth_in_money_counts_hours_at_their_price() {
    let of = |model: &SiteModel, measure| model.aims.iter().find(|(m, _)| *m == measure).unwrap().1;
    let by_prices =
        priced("[prices]\nhour = \"12 EUR\"\nharvest = \"2.5 EUR per kg\"\nfeed = \"0.6 EUR per kg\"").unwrap();
    assert_eq!(by_prices.aim_unit.short(), "EUR");
    assert_eq!(of(&by_prices, Measure::WorkSaved), 12.0);
    assert_eq!(of(&by_prices, Measure::HarvestKept), 2.5);
    assert_eq!(of(&by_prices, Measure::FeedSaved), 0.6);
    // The default of 0.4 h a point at 12 EUR.
    assert!((of(&by_prices, Measure::CoverLoss) + 4.8).abs() < 1e-12);
    // Feed is bought: without a price of its own it counts nothing, whatever an hour costs.
    let no_feed = priced("[prices]\nhour = \"12 EUR\"").unwrap();
    assert!(no_feed.aims.iter().all(|(measure, _)| *measure != Measure::FeedSaved));
    let taken = no_feed.defaults.iter().find(|default| default.key == "aims").unwrap();
    assert!(taken.value.ends_with("feed_saved nothing, no price given"), "{}", taken.value);
    let by_aims = priced("[aims]\nwork_saved = \"€12 per h\"\nharvest_kept = \"€1 per lb\"").unwrap();
    assert_eq!(by_aims.aim_unit.amount("3"), "€3");
    assert!((of(&by_aims, Measure::HarvestKept) - 1.0 / 0.453_592_37).abs() < 1e-9);
}

#[test]
fn hours_and_money_do_not_mix_without_a_price() {
    let fault = |tables: &str| priced(tables).unwrap_err();
    let mixed = fault("[aims]\nwork_saved = \"1 h per h\"\nharvest_kept = \"2.5 EUR per kg\"");
    assert!(mixed.contains("hours of work stand beside EUR, and an hour has no price"), "{mixed}");
    assert!(mixed.contains("[prices] hour = \"12 EUR\""), "{mixed}");
    let defaults = fault("[prices]\nharvest = \"2.5 EUR per kg\"");
    assert!(defaults.contains("an hour has no price"), "{defaults}");
    let two = fault("[prices]\nhour = \"12 EUR\"\nharvest = \"2.5 USD per kg\"");
    assert!(two.contains("harvest is in USD, and another line in EUR"), "{two}");
    let twice = fault("[prices]\nhour = \"12 EUR\"\nharvest = \"2 EUR per kg\"\n[aims]\nharvest_kept = \"1 h per kg\"");
    assert!(twice.contains("harvest_kept has a price in [prices] too"), "{twice}");
    let unit = fault("[prices]\nhour = \"12 EUR\"\nharvest = \"2.5 EUR per move\"");
    assert!(unit.contains("Write it so: harvest = \"2.5 EUR per kg\"."), "{unit}");
    let hour = fault("[prices]\nhour = \"12 EUR per kg\"");
    assert!(hour.contains("hour is no price of an hour"), "{hour}");
}

/// Whoever gives a table a wrong shape has seen none: the whole of it is shown at once, and what is shown can be read.
#[test]
fn a_wrong_shape_is_answered_with_the_whole_example() {
    let orchard = "[plot.orchard]\n";
    let guards = "guards = [{ share = 0.15, from = \"03-15\", to = \"07-31\" }]";
    for (wrong, whole) in [
        ("guards = [\"08-20\", \"09-20\"]", guards),
        ("guards = { share = 0.15 }", guards),
        ("guards = \"all summer\"", guards),
        ("guards = [{ from = \"03-15\", to = \"07-31\" }]", guards),
        ("weeds = [\"chickweed\"]", "weeds = [{ plant = \"chickweed\", seeds = \"2500 per m2\" }]"),
        ("slugs = \"many\"", "slugs = [{ species = \"grey field slug\", start = \"15 per m2\" }]"),
        ("fruit_harvest = \"08-01\"\ncanopy = \"plum trees\"", "fruit_harvest = [\"08-01\", \"09-10\"]"),
    ] {
        let found = faults(orchard, &format!("{orchard}{wrong}\n"));
        assert!(found.contains(&format!("example: {whole}")), "{wrong}: {found}");
        let mended = SMALL.replace(orchard, &format!("{orchard}canopy = \"plum trees\"\n{whole}\n"));
        read_with(&mended, "").unwrap();
    }
    let cover = faults("cover = { plant = \"mown grass\", start = 0.9 }\n[plot.beds]", "cover = \"lawn\"\n[plot.beds]");
    assert!(cover.contains("For example: cover = { plant = \"mown grass\", start = 0.9 }"), "{cover}");
    let isolate = faults("number = 10", "number = 10\nisolate = \"orchard\"");
    assert!(isolate.contains("For example: isolate = { plot = \"orchard\", days = 28 }"), "{isolate}");
    let crop = faults("[[plot.beds.crop]]", "[plot.beds.crop]");
    assert!(crop.contains("\n  For example:\n  [[plot.orchard.crop]]\n  crop = \"leek\"\n  in_ground = ["), "{crop}");
    let run = faults("[run]\nstart = 2027-03-01\nyears = 1", "run = 3");
    assert!(run.contains("\n  For example:\n  [run]\n  start = 2027-03-01\n"), "{run}");
}
