//! Every doubt of `check`: a plausible mistake is recognised at its place, with the reason and
//! a remedy; the site without mistakes, the demos and the starters raise none.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::{Library, SiteModel, site_file};
use std::path::Path;
use std::sync::OnceLock;

/// A site without anything unusual, with every part a doubt can be about.
const GOOD: &str = r#"format = 1
name = "Good"
latitude = "52 deg"
longitude = "5 deg"
utc_offset = "1 h"
elevation = "40 m"
[run]
start = 2027-03-01
years = 3
draws = 200
[weather]
climate = "cool-maritime"
[yard]
area = "40 m2"
surface = "wood chip"
cleaned_out = "every 8 weeks"
covered = false
[house]
night_share = 0.45
[birds.hens]
class = "layer"
number = 10
[birds.young]
class = "layer"
number = 3
arrive = 2028-08-20
isolate = { plot = "meadow", days = 30 }
[plot.orchard]
area = "150 m2"
soil = "loam"
cover = { plant = "rough grass", start = 0.9 }
weeds = [ { plant = "chickweed", seeds = "1500 per m2" }, { plant = "cleavers", seeds = "200 per m2" } ]
creeping = [ { plant = "couch grass", reserve = "20 g/m2" } ]
canopy = "plum trees"
fruit_harvest = ["08-01", "09-10"]
distance_from_yard = "10 m"
[[plot.orchard.pest]]
species = "plum sawfly"
start = "8 per m2"
[[plot.orchard.care]]
task = "mow"
every = "8 weeks"
season = ["05-01", "09-30"]
[plot.beds]
area = "60 m2"
soil = "sandy loam"
beds = 0.6
cover = { plant = "mown grass", start = 0.85 }
irrigation = "drip"
guards = [ { share = 0.6, from = "03-20", to = "10-01" } ]
[[plot.beds.crop]]
crop = "tomato"
cleared = true
in_ground = ["06-01", "10-01"]
harvest = ["08-10", "10-01"]
[[plot.beds.pest]]
species = "colorado beetle"
start = "3 per m2"
[[plot.beds.care]]
task = "hoe"
every = "3 weeks"
season = ["04-15", "08-31"]
effort = "0.02 h per m2"
[[plot.beds.care]]
task = "compost"
every = "52 weeks"
season = ["03-01", "03-31"]
[[plot.beds.care]]
task = "mulch"
every = "26 weeks"
season = ["06-01", "09-30"]
[plot.meadow]
area = "120 m2"
soil = "loam"
cover = { plant = "grass and clover", start = 0.9 }
[[event]]
on = 2028-01-10
until = 2028-02-20
what = "housing order"
[[event]]
on = "10-20"
what = "spread heap"
plot = "meadow"
[rules]
shut_on = ["mud"]
[limits]
least_cover = 0.6
space = "4 m2 per bird"
[aims]
weeding_saved = "1 per h"
cover_loss = "-1.5 per point"
[compare]
sure = 0.9
[strategy.turn]
fixed_turn = { order = ["orchard", "meadow"], stay = "14 days" }
[strategy.by-eye]
by_eye = { enter_above = 0.88, leave_below = 0.75 }
hours = "6 h"
birds = 8
[strategy.watch]
pest_date = { plot = "orchard", species = "plum sawfly", from = "-60 degree-days", to = "60 degree-days", else = "turn" }
[strategy.cool]
weather = { shade_above = "28 C", else = "turn" }
"#;

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

fn read_beside(text: &str, companion: &str) -> SiteModel {
    let companions = |_: &str| Ok(companion.to_owned());
    site_file::read_text("good.toml", text, library(), &companions).unwrap_or_else(|faults| panic!("{faults}"))
}

fn read(text: &str) -> SiteModel {
    read_beside(text, "date,plot\n")
}

/// The good site with pieces replaced.
#[track_caller]
fn with(changes: &[(&str, &str)]) -> String {
    let mut text = GOOD.to_owned();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replacen(old, new, 1);
    }
    text
}

/// The changed site raises a doubt with these words (reason included) and this remedy, at a line
/// that holds `line`.
#[track_caller]
fn raises(changes: &[(&str, &str)], line: &str, message: &str, remedy: &str) {
    found(&read(&with(changes)), line, message, remedy);
}

#[track_caller]
fn found(model: &SiteModel, line: &str, message: &str, remedy: &str) {
    let told: Vec<String> = model.doubts.iter().map(ToString::to_string).collect();
    let doubt = model.doubts.iter().find(|doubt| doubt.message.contains(message));
    let Some(doubt) = doubt else { panic!("no doubt says {message:?}:\n{}", told.join("\n\n")) };
    assert!(doubt.message.contains(", because "), "{doubt}");
    assert!(doubt.remedy.contains(remedy), "{doubt}");
    assert!(doubt.place.text.contains(line) && doubt.place.line > 0, "{doubt}");
}

#[test]
fn the_good_site_raises_none() {
    let told: Vec<String> = read(GOOD).doubts.iter().map(ToString::to_string).collect();
    assert_eq!(told, Vec::<String>::new(), "{}", told.join("\n\n"));
}

#[test]
fn the_caret_stands_under_the_value() {
    let model = read(&with(&[("area = \"150 m2\"", "area = \"1500 m2\"")]));
    let told = model.doubts[0].to_string();
    assert_eq!(
        told,
        "good.toml, line 29, column 8: unusual: 1500 m2 is much for one plot and 13 birds, because it is over 40 m2 per bird (from memory)\n   \
         29 | area = \"1500 m2\"\n      |        ^^^^^^^^^\n  Did you mean \"1500 ft2\"?"
    );
}

#[test]
fn place() {
    let tomatoes = "tomato stands in the cold half of the year";
    raises(&[("\"52 deg\"", "\"-52 deg\"")], "latitude", tomatoes, "Did you mean latitude = \"52 deg\"?");
    raises(&[("\"5 deg\"", "\"-120 deg\"")], "longitude", "sun and clock", "Did you mean utc_offset = \"-8 h\"?");
    raises(
        &[("\"5 deg\"", "\"-75 deg\""), ("\"1 h\"", "\"5 h\"")],
        "longitude",
        "at longitude -75",
        "Did you mean longitude = \"75 deg\"?",
    );
    raises(&[("\"40 m\"", "\"2100 m\"")], "elevation", "2100 m is very high", "Did you mean \"2100 ft\"?");
    raises(&[("\"52 deg\"", "\"5.2 deg\"")], "latitude", "5.2 degrees is close to the equator", "a digit is missing");
    raises(&[("\"52 deg\"", "\"33 deg\"")], "climate", "\"cool-maritime\" at 33 degrees", "Did you mean climate = \"");
}

#[test]
fn a_station_of_the_other_hemisphere() {
    let days = (0..800).map(|day| {
        let date = jiff::civil::date(2015, 1, 1).saturating_add(jiff::ToSpan::days(day));
        let warm = if (4..=9).contains(&date.month()) { 20.0 } else { 5.0 } + f64::from(day % 7);
        format!("{date},{warm},{},{}\n", warm + 6.0 + f64::from(day % 3), if day % 4 < 2 { day % 9 } else { 0 })
    });
    let station = format!("date,tmin[C],tmax[C],rain[mm]\n{}", days.collect::<String>());
    let text =
        with(&[("climate = \"cool-maritime\"", "station = \"s.csv\"\nuse = \"years\""), ("\"52 deg\"", "\"-52 deg\"")]);
    found(&read_beside(&text, &station), "latitude", "s.csv is warmest in July", "Did you mean latitude = \"52 deg\"?");
}

#[test]
fn run() {
    raises(&[("draws = 200", "draws = 10")], "draws", "10 possible years are few", "draws = 200");
    raises(&[("years = 3", "years = 1")], "years", "a run of one year with a pest", "years = 3");
    raises(
        &[("start = 2027-03-01", "start = 2027-07-15")],
        "start",
        "in the middle of tomato",
        "Did you mean start = 2027-03-01?",
    );
    raises(
        &[("start = 2027-03-01", "start = 2027-05-28")],
        "start",
        "8 per m2 of plum sawfly in the soil",
        "Begin before they fly",
    );
}

#[test]
fn sizes() {
    raises(&[("\"120 m2\"", "\"0.6 ha\"")], "0.6 ha", "6000 m2 is much for one plot", "Did you mean \"6000 ft2\"");
    raises(
        &[("\"120 m2\"", "\"0.6 ha\"")],
        "0.6 ha",
        "it is over 20 times the middle plot",
        "Did you mean \"0.06 ha\"?",
    );
    raises(&[("\"60 m2\"", "\"6 m2\"")], "6 m2", "6 m2 for 13 birds is very tight", "let fewer in");
    raises(&[("\"10 m\"", "\"160 m\"")], "160 m", "160 m is far for a gate", "Did you mean \"160 ft\"?");
    raises(&[("beds = 0.6", "beds = 0.006")], "beds", "leaves 0.36 m2 of beds", "Did you mean beds = 0.6?");
    raises(
        &[("number = 10", "number = 100")],
        "number",
        "103 birds have 3.2 m2 each over all plots",
        "Keep fewer birds",
    );
    raises(
        &[("space = \"4 m2", "space = \"40 m2")],
        "space",
        "all plots together give 25.4 m2 per bird",
        "Lower the limit",
    );
}

#[test]
fn ground() {
    raises(
        &[("soil = \"loam\"", "soil = \"sand\"\ndrainage = \"slow\"")],
        "drainage",
        "sand with slow drainage",
        "drainage = \"ordinary\"",
    );
    raises(
        &[("soil = \"loam\"", "soil = \"clay\"\ndrainage = \"fast\"")],
        "drainage",
        "clay with fast drainage",
        "ordinary",
    );
    raises(
        &[("rough grass", "warm-season grass")],
        "warm-season",
        "warm-season grass under plum trees",
        "Did you mean \"shade grass\"",
    );
    raises(
        &[("distance_from_yard = \"10 m\"", "irrigation = \"drip\"")],
        "drip",
        "drip irrigation on a plot without a crop",
        "name the crop",
    );
}

#[test]
fn yard_and_house() {
    raises(
        &[("\"40 m2\"", "\"400 m2\"")],
        "400 m2",
        "the yard has 400 m2 and all plots 330 m2",
        "Did you count a plot",
    );
    raises(&[("\"40 m2\"", "\"3 m2\"")], "3 m2", "3 m2 of yard for 13 birds", "Correct the area");
    raises(
        &[("\"40 m2\"", "\"200 m2\""), ("covered = false", "covered = true")],
        "covered",
        "a roof over 200 m2",
        "Did you mean netted = true?",
    );
    raises(
        &[("cleaned_out = \"every 8 weeks\"\n", "")],
        "surface",
        "never cleaned out",
        "cleaned_out = \"every 8 weeks\"",
    );
    raises(
        &[("night_share = 0.45", "night_share = 0.9")],
        "night_share",
        "0.9 of the droppings",
        "Did you mean night_share = 0.45?",
    );
    raises(&[("night_share = 0.45", "night_share = 0.1")], "night_share", "below 0.25", "0.45");
}

#[test]
fn flock() {
    let young = "[birds.young]\nclass = \"layer\"\nnumber = 3\narrive = 2028-08-20\nisolate = { plot = \"meadow\", days = 30 }\n";
    raises(&[("number = 10", "number = 0"), (young, "")], "number", "there are no birds", "class = \"layer\"");
    raises(&[("number = 10", "number = 1"), (young, "")], "number", "1 birds in all", "Correct the number");
    raises(&[("arrive = 2028", "arrive = 2038")], "arrive", "young arrive on 2038-08-20", "Did you mean 2027-08-20?");
    raises(&[("arrive = 2028", "arrive = 2026")], "arrive", "the run only begins on 2027-03-01", "Leave arrive away");
    raises(
        &[("number = 10", "number = 10\nleave = 2026-10-01")],
        "leave",
        "hens leave on 2026-10-01",
        "Correct the date",
    );
    raises(
        &[("number = 10", "number = 10\nleave = 2027-08-01"), (young, "")],
        "leave",
        "there are no birds on 943 of 1096 days",
        "Correct the dates",
    );
    raises(
        &[("class = \"layer\"", "class = \"pullet\"")],
        "class",
        "hens are of class \"pullet\" for 1096 days",
        "leave = 2027-06-29",
    );
    raises(
        &[("class = \"layer\"", "class = \"broiler\"")],
        "class",
        "class \"broiler\" for 1096 days",
        "leave = 2027-07-09",
    );
    raises(
        &[("number = 10", "number = 10\ninfection = 30")],
        "infection",
        "infection = 30",
        "Did you mean infection = 1?",
    );
}

#[test]
fn isolation() {
    let isolate = "isolate = { plot = \"meadow\", days = 30 }";
    raises(&[(isolate, "")], "arrive", "young go straight to the others on 2028-08-20", "isolate =");
    raises(&[("days = 30", "days = 7")], "days = 7", "young are isolated for 7 days", "Did you mean days = 30?");
    raises(
        &[("plot = \"meadow\", days", "plot = \"beds\", days")],
        "isolate",
        "isolated in beds from 2028-08-20 to 2028-09-19",
        "without a crop",
    );
}

#[test]
fn crops() {
    let dates = "in_ground = [\"06-01\", \"10-01\"]\nharvest = [\"08-10\", \"10-01\"]";
    raises(
        &[(dates, "in_ground = [\"06-01\", \"07-01\"]\nharvest = [\"06-25\", \"07-01\"]")],
        "06-25",
        "tomato is harvested until 07-01",
        "choose another crop for this climate",
    );
    raises(
        &[
            ("crop = \"tomato\"", "crop = \"radish\""),
            (dates, "in_ground = [\"04-01\", \"12-01\"]\nharvest = [\"11-01\", \"12-01\"]"),
        ],
        "11-01",
        "the first harvest of radish is on 11-01",
        "Shorten its time",
    );
    raises(
        &[("[\"06-01\", \"10-01\"]", "[\"03-01\", \"10-01\"]")],
        "in_ground",
        "tomato goes out on 03-01",
        "Did you mean \"",
    );
    raises(
        &[("[\"08-10\", \"10-01\"]", "[\"06-03\", \"10-01\"]")],
        "harvest",
        "tomato is harvested 2 days after it is planted",
        "within in_ground",
    );
    raises(
        &[("harvest = [\"08-10\", \"10-01\"]\n", "")],
        "crop",
        "tomato has no harvest",
        "harvest = [\"10-01\", \"10-01\"]",
    );
    raises(
        &[("crop = \"tomato\"", "crop = \"carrot\"\ntouches_soil = false")],
        "touches_soil",
        "carrot is said not to touch the soil",
        "Take the line out",
    );
    raises(
        &[("[\"08-01\", \"09-10\"]", "[\"02-01\", \"03-10\"]")],
        "fruit_harvest",
        "fruit of plum trees is picked from 02-01 to 03-10",
        "the sign of the latitude",
    );
}

#[test]
fn guards() {
    raises(
        &[("share = 0.6, from", "share = 0.3, from")],
        "share",
        "guards over 0.3 of a plot with 0.6 in beds",
        "Did you mean share = 0.6?",
    );
    raises(
        &[("from = \"03-20\"", "from = \"07-15\"")],
        "from",
        "no guards in beds while tomato is young",
        "Did you mean from = \"06-01\"?",
    );
}

#[test]
fn waiting() {
    raises(
        &[
            ("guards = [ { share = 0.6, from = \"03-20\", to = \"10-01\" } ]\n", ""),
            ("in_ground = [\"06-01\", \"10-01\"]", "in_ground = [\"05-25\", \"05-20\"]"),
            ("[\"08-10\", \"10-01\"]", "[\"08-10\", \"05-20\"]"),
        ],
        "harvest",
        "beds can be open 0 days of a year",
        "Leave a longer gap",
    );
    raises(
        &[("[[event]]", "[[event]]\non = 2027-06-10\nwhat = \"open gate\"\nplot = \"beds\"\n[[event]]")],
        "2027-06-10",
        "beds is to open on 2027-06-10",
        "choose another plot or date",
    );
    let dated = with(&[("[strategy.turn]", "[strategy.list]\ndated = { file = \"gates.csv\" }\n[strategy.turn]")]);
    found(
        &read_beside(&dated, "date,plot\n2027-08-20,beds\n"),
        "gates.csv",
        "beds is to open on 2027-08-20",
        "choose another",
    );
    raises(
        &[("shut_on = [\"mud\"]", "waiting_days_other = \"12 days\"\nwaiting_rule_reason = \"own\"")],
        "waiting_days_other",
        "a waiting period of 12 days",
        "Did you mean weeks?",
    );
    raises(
        &[
            ("on = \"10-20\"", "on = \"05-20\""),
            ("\"spread heap\"\nplot = \"meadow\"", "\"spread heap\"\nplot = \"beds\""),
        ],
        "05-20",
        "the heap is spread on beds on 05-20",
        "after the last harvest",
    );
}

#[test]
fn pests() {
    raises(
        &[("\"8 per m2\"", "\"900 per m2\"")],
        "900",
        "900 per m2 of plum sawfly is very many",
        "Did you mean \"6 per m2\"?",
    );
    raises(
        &[("canopy = \"plum trees\"\nfruit_harvest = [\"08-01\", \"09-10\"]\n", "")],
        "species",
        "it lives on trees, bushes or canes",
        "canopy =",
    );
    raises(
        &[("crop = \"tomato\"", "crop = \"sweetcorn\"")],
        "species",
        "it lives on a crop of the nightshade family",
        "Add the crop",
    );
    raises(
        &[("canopy = \"plum trees\"", "canopy = \"pear trees\"")],
        "species",
        "plum sawfly under pear trees",
        "Did you mean",
    );
    raises(
        &[
            ("plum trees", "apple trees"),
            ("species = \"plum sawfly\"", "species = \"apple maggot\""),
            ("cool-maritime", "cool highland"),
        ],
        "species",
        "apple maggot in this climate",
        "it cannot live there",
    );
    raises(
        &[("\"8 per m2\"", "\"0 per m2\"\nneighbours = \"none\"")],
        "start",
        "no plum sawfly in the soil and none flying in",
        "start =",
    );
    raises(
        &[(
            "[[plot.orchard.care]]",
            "[[plot.orchard.pest]]\nspecies = \"plum sawfly\"\nstart = \"5 per m2\"\n[[plot.orchard.care]]",
        )],
        "species",
        "plum sawfly stands twice in orchard",
        "Take one out",
    );
}

#[test]
fn weeds() {
    raises(
        &[("\"1500 per m2\"", "\"150000 per m2\"")],
        "150000",
        "150000 per m2 of chickweed seeds",
        "Did you mean \"1000 per m2\"?",
    );
    raises(&[("\"1500 per m2\"", "\"12 per m2\"")], "12 per", "12 per m2 of chickweed seeds", "Then \"240 per m2\"");
    raises(
        &[("plant = \"cleavers\"", "plant = \"chickweed\"")],
        "chickweed",
        "chickweed stands twice in orchard",
        "Take one out",
    );
    raises(
        &[("\"20 g/m2\"", "\"2 kg/m2\"")],
        "2 kg/m2",
        "2000 g/m2 of roots of couch grass",
        "Did you mean \"200 g/m2\"?",
    );
}

#[test]
fn plants_that_can_harm() {
    let yew = GOOD.replace("meadow", "yew-walk");
    found(&read(&yew), "[plot.yew-walk]", "birds go to yew-walk, because yew can harm birds", "ask a vet");
    raises(
        &[("crop = \"tomato\"\ncleared = true", "crop = \"potato\"")],
        "potato",
        "what is left of potato stands for the birds",
        "cleared = true",
    );
}

#[test]
fn care() {
    raises(
        &[("beds = 0.6", "beds = 1"), ("task = \"hoe\"", "task = \"mow\"")],
        "task",
        "mowing in beds",
        "Did you mean task = \"hoe\"?",
    );
    raises(&[("task = \"mow\"", "task = \"hoe\"")], "task", "hoeing in orchard", "Did you mean task = \"mow\"?");
    raises(
        &[("every = \"3 weeks\"", "every = \"3 days\"")],
        "every",
        "hand work in beds every 3 days",
        "Did you mean every = \"3 weeks\"?",
    );
    raises(
        &[("\"0.02 h per m2\"", "\"1.2 h per m2\"")],
        "effort",
        "one go in beds takes 72 h",
        "Did you mean effort = \"0.02 h per m2\"?",
    );
    raises(
        &[("task = \"mulch\"", "task = \"mulch\"\nmass = \"8 kg/m2\"")],
        "mass",
        "8000 g/m2 of mulch at once",
        "Did you mean \"800 g/m2\"?",
    );
    raises(
        &[("every = \"52 weeks\"\nseason = [\"03-01\", \"03-31\"]", "every = \"4 weeks\"")],
        "[[plot.beds.care]]",
        "of nitrogen with the compost of beds",
        "once a year",
    );
}

#[test]
fn stays() {
    let order = "order = [\"orchard\", \"meadow\"]";
    raises(&[(order, "order = [\"orchard\"]")], "order", "a turn through one plot", "continuous");
    raises(
        &[(order, "order = [\"orchard\", \"orchard\", \"meadow\"]")],
        "order",
        "orchard comes twice running",
        "Take one out",
    );
    raises(&[("stay = \"14 days\"", "stay = \"30 weeks\"")], "stay", "a stay of 210 days", "Did you mean \"30 days\"?");
    raises(
        &[
            (order, "order = [\"orchard\", \"meadow\", \"beds\", \"orchard\"]"),
            ("stay = \"14 days\"", "stay = \"100 days\""),
        ],
        "stay",
        "one round of the turn takes 400 days",
        "Did you mean stay = \"45 days\"?",
    );
    raises(&[("stay = \"14 days\"", "stay = \"3 days\"")], "stay", "a plot rests for 3 days", "Did you mean weeks?");
    raises(
        &[("leave_below = 0.75", "leave_below = 0.75, shortest_rest = \"3 days\"")],
        "shortest_rest",
        "a plot rests for 3 days",
        "28 days",
    );
    raises(
        &[
            ("guards = [ { share = 0.6, from = \"03-20\", to = \"10-01\" } ]\n", ""),
            ("in_ground = [\"06-01\", \"10-01\"]", "in_ground = [\"05-25\", \"05-20\"]"),
            ("[\"08-10\", \"10-01\"]", "[\"08-10\", \"05-20\"]"),
            (order, "order = [\"orchard\", \"beds\"]"),
        ],
        "order",
        "turn wants to open beds",
        "Take it out of the strategy",
    );
}

#[test]
fn strategies() {
    raises(&[("hours = \"6 h\"", "hours = \"20 h\"")], "hours", "gates open for 20 h a day", "Leave hours away");
    raises(&[("birds = 8", "birds = 80")], "birds = 80", "80 birds are let through", "Leave birds away");
    raises(
        &[("leave_below = 0.75", "leave_below = 0.88")],
        "leave_below",
        "birds enter above 0.88 and leave below 0.88",
        "Did you mean leave_below = 0.73?",
    );
    raises(
        &[("leave_below = 0.75", "leave_below = 0.5")],
        "leave_below",
        "by-eye leaves below a cover of 0.5",
        "Did you mean leave_below = 0.7?",
    );
    raises(&[("\"28 C\"", "\"12 C\"")], "shade_above", "shade above 12 C", "Did you mean \"28 C\"?");
    let bare = [("canopy = \"plum trees\"\nfruit_harvest = [\"08-01\", \"09-10\"]\n", "")];
    raises(&bare, "shade_above", "no plot has trees", "Add canopy");
    raises(
        &[(
            "from = \"-60 degree-days\", to = \"60 degree-days\"",
            "from = \"150 degree-days\", to = \"200 degree-days\"",
        )],
        "pest_date",
        "from 150 to 200 degree-days",
        "Did you mean \"0 degree-days\" to \"50 degree-days\"?",
    );
    raises(
        &[(
            "from = \"-60 degree-days\", to = \"60 degree-days\"",
            "from = \"2000 degree-days\", to = \"2100 degree-days\"",
        )],
        "pest_date",
        "a whole season of plum sawfly has",
        "-60 degree-days",
    );
    raises(
        &[("plot = \"orchard\", species", "plot = \"meadow\", species")],
        "pest_date",
        "watch watches plum sawfly in meadow",
        "watch another plot",
    );
    let dated = with(&[("[strategy.turn]", "[strategy.list]\ndated = { file = \"gates.csv\" }\n[strategy.turn]")]);
    found(
        &read_beside(&dated, "date,plot\n2025-03-20,meadow\n2025-04-20,orchard\n"),
        "gates.csv",
        "2 of 2 dates of list are outside the run",
        "another year",
    );
}

#[test]
fn events() {
    raises(
        &[("on = 2028-01-10\nuntil = 2028-02-20", "on = 2035-01-10\nuntil = 2035-02-20")],
        "2035-01-10",
        "this event never comes",
        "Change its date",
    );
    raises(&[("until = 2028-02-20\n", "")], "[[event]]", "a housing order without an end", "until =");
    let again = "[[event]]\non = \"10-20\"\nwhat = \"spread heap\"\nplot = \"meadow\"\n[rules]";
    raises(&[("[rules]", again)], "[[event]]", "this event stands twice", "Take one out");
    let gates = "[[event]]\non = 2027-11-20\nwhat = \"open gate\"\nplot = \"meadow\"\n[[event]]\non = 2027-11-20\nwhat = \"shut gate\"\nplot = \"meadow\"\n[rules]";
    raises(&[("[rules]", gates)], "shut gate", "both opened and shut by hand", "Keep one");
}

#[test]
fn limits_and_aims() {
    raises(
        &[("plant = \"mown grass\", start = 0.85", "plant = \"mown grass\", start = 0.4")],
        "start = 0.4",
        "beds starts with a cover of 0.4",
        "Lower least_cover below 0.4",
    );
    raises(
        &[("least_cover = 0.6", "least_cover = 0.97")],
        "least_cover",
        "a least cover of 0.97",
        "Did you mean least_cover = 0.7?",
    );
    raises(&[("sure = 0.9", "sure = 1")], "sure", "a chance of 1", "Did you mean sure = 0.9?");
    raises(&[("sure = 0.9", "sure = 0.1")], "sure", "a chance of 0.1", "Did you mean sure = 0.9?");
    raises(
        &[("\"-1.5 per point\"", "\"1.5 per point\"")],
        "cover_loss",
        "cover_loss rewards",
        "Did you mean a negative number?",
    );
    raises(
        &[("\"1 per h\"", "\"5000 per h\"")],
        "weeding_saved",
        "it weighs over 100 times the next aim",
        "scale it down",
    );
    raises(
        &[("weeding_saved = \"1 per h\"\ncover_loss = \"-1.5 per point\"", "weeding_saved = \"0 per h\"")],
        "[aims]",
        "no aim has any points",
        "defaults are taken",
    );
}

/// Every site file below a folder of the room: demos are folders, starters are files.
fn shipped() -> Vec<std::path::PathBuf> {
    let room = Path::new(env!("CARGO_MANIFEST_DIR"));
    let demos = std::fs::read_dir(room.join("demos")).unwrap().map(|entry| entry.unwrap().path().join("site.toml"));
    let starters = std::fs::read_dir(room.join("starters")).unwrap().map(|entry| entry.unwrap().path());
    demos.chain(starters).filter(|path| path.is_file()).collect()
}

#[test]
fn demos_and_starters_raise_none() {
    let all = shipped();
    assert!(all.len() >= 5, "{all:?}");
    for path in all {
        let model = site_file::read(&path, library()).unwrap_or_else(|faults| panic!("{faults}"));
        let told: Vec<String> = model.doubts.iter().map(ToString::to_string).collect();
        assert_eq!(told, Vec::<String>::new(), "{}:\n{}", path.display(), told.join("\n\n"));
    }
}

/// Whoever writes feet or acres means them.
#[test]
fn us_units_are_not_taken_for_a_slip() {
    let text = with(&[("\"40 m\"", "\"7000 ft\""), ("\"150 m2\"", "\"0.3 acre\"")]);
    let told: Vec<String> = read(&text).doubts.iter().map(ToString::to_string).collect();
    assert_eq!(told, Vec::<String>::new(), "{}", told.join("\n\n"));
}
