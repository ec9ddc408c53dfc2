//! Names of plants, pests, covers and soils as keepers of several countries type them: read, or asked back in one fault.
#![allow(clippy::unwrap_used)]

use scenarios::{Library, SiteModel, site_file};

const SITE: &str = "format = 2\nlatitude = \"50 deg\"\n[run]\nstart = 2027-03-01\n[weather]\nclimate = \"cool-maritime\"\n\
    [yard]\narea = \"20 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 4\n[plot.lawn]\narea = \"60 m2\"\n\
    soil = \"loam\"\nbeds = 0.5\ncanopy = \"plum trees\"\ncover = { plant = \"mown grass\", start = 0.9 }\n\
    weeds = [{ plant = \"chickweed\", seeds = \"100 per m2\" }]\n\
    creeping = [{ plant = \"docks\", reserve = \"5 g/m2\" }]\n\
    slugs = [{ species = \"garden slug\", start = \"5 per m2\" }]\n\
    [[plot.lawn.crop]]\ncrop = \"leek\"\nin_ground = [\"05-05\", \"09-12\"]\n\
    [[plot.lawn.pest]]\nspecies = \"plum sawfly\"\nstart = \"8 per m2\"\n";

fn read(text: &str) -> Result<SiteModel, Vec<(String, String)>> {
    let library = Library::shipped().unwrap();
    site_file::read_text("site.toml", text, &library, &|_| Err("none".into()))
        .map_err(|faults| faults.into_vec().into_iter().map(|fault| (fault.message, fault.remedy)).collect())
}

fn with(old: &str, new: &str) -> String {
    let old = format!("\"{old}\"");
    assert_eq!(SITE.matches(&old).count(), 1, "{old}");
    SITE.replace(&old, &format!("\"{new}\""))
}

#[test]
fn another_name_is_read_as_the_entry_it_is_of_and_said_so() {
    for (old, written, entry) in [
        ("leek", "zucchini", "courgette"),
        ("leek", "Silverbeet", "chard"),
        ("leek", "rutabaga", "swede"),
        ("leek", "arugula", "rocket"),
        ("leek", "capsicum", "pepper"),
        ("leek", "Scallions", "spring onion"),
        ("leek", "fava beans", "broad bean"),
        ("leek", "kumara", "sweet potato"),
        ("leek", "brinjal", "aubergine"),
        ("leek", "tomatoes", "tomato"),
        ("plum trees", "apple", "apple trees"),
        ("plum trees", "naartjie", "mandarin trees"),
        ("plum trees", "Passionfruit", "passion fruit vines"),
        ("plum trees", "boysenberries", "loganberry and boysenberry canes"),
        ("mown grass", "lawn", "mown grass"),
        ("mown grass", "kikuyu", "kikuyu grass lawn"),
        ("mown grass", "bare ground", "bare path"),
        ("chickweed", "lamb’s quarters", "fat hen"),
        ("docks", "quackgrass", "couch grass"),
        ("garden slug", "snails", "garden snail"),
        ("plum sawfly", "cherry slug", "pear slug"),
        ("layer", "chooks", "layer"),
        ("loam", "heavy clay", "clay"),
    ] {
        let model = read(&with(old, written)).unwrap_or_else(|faults| panic!("{written}: {faults:?}"));
        let names: Vec<(&str, &str)> =
            model.names_read.iter().map(|read| (read.written.as_str(), read.entry.as_str())).collect();
        assert_eq!(names, [(written, entry)]);
        assert!(model.entries.iter().any(|(.., used)| used.name == entry), "{written}");
    }
    assert!(read(SITE).unwrap().names_read.is_empty());
}

#[test]
fn a_name_that_means_two_things_is_asked_back_once() {
    for (old, written, wanted) in [
        ("leek", "squash", &["\"courgette\" (", "\"winter squash\" ("] as &[&str]),
        ("leek", "yams", &["\"sweet potato\" (", "\"taro\" ("]),
        ("leek", "corn", &["\"sweetcorn\" (", "\"winter rye\" (", "\"oats\" ("]),
        ("leek", "cole", &["\"kale\" (", "\"cabbage\" ("]),
        ("leek", "cape gooseberry", &["\"tomato\" (", "[library.crop.\"cape gooseberry\"]"]),
        ("plum trees", "gooseberries", &["\"gooseberry bushes\" (", "Physalis"]),
        ("plum trees", "guava", &["\"feijoa hedge\" (", "[library.canopy.\"guava\"]"]),
        ("docks", "couch", &["\"couch grass\" (", "\"bermuda grass\" ("]),
        ("docks", "nutgrass", &["\"purple nutsedge\" (", "\"yellow nutsedge\" ("]),
        ("mown grass", "buffalo grass", &["\"buffalo grass lawn\" (", "Bouteloua"]),
        ("mown grass", "wood chips", &["\"bare path\" (", "mulch"]),
        ("plum sawfly", "lawn grubs", &["\"japanese beetle\" (", "\"cockchafer\" (", "\"grass grub\" ("]),
        ("plum sawfly", "fruit fly", &["\"queensland fruit fly\" (", "\"mediterranean fruit fly\" ("]),
        ("loam", "dirt", &["\"loam\" (", "\"sandy loam\" (", "\"clay loam\" ("]),
        ("layer", "pekins", &["\"duck\" (", "\"bantam\" ("]),
    ] {
        let faults = read(&with(old, written)).unwrap_err();
        assert_eq!(faults.len(), 1, "{written}: {faults:?}");
        let (message, remedy) = &faults[0];
        assert!(message.contains("can mean more than one thing"), "{message}");
        assert!(wanted.iter().all(|name| remedy.contains(name)), "{written}: {remedy}");
    }
}

#[test]
fn a_name_of_nothing_is_told_the_nearest_and_how_to_make_it() {
    let told = |old, written| read(&with(old, written)).unwrap_err().remove(0).1;
    let coffee = told("leek", "coffee");
    assert!(coffee.contains("[library.crop.\"coffee\"] with like = "), "{coffee}");
    assert_eq!(told("leek", "zuchini"), "Did you mean \"courgette\"? It is also called zucchini.");
    let other = told("leek", "fig tree");
    assert_eq!(other, "\"fig tree\" is known, but not as a crop. Write: canopy = \"fig trees\", in its plot");
}

/// An entry's own name wins over another's other name, and a site's own entry over the library's.
#[test]
fn an_own_entry_may_have_any_name() {
    let own = format!("{}[library.crop.zucchini]\nlike = \"courgette\"\n", with("leek", "zucchini"));
    let model = read(&own).unwrap();
    assert!(model.names_read.is_empty());
    assert!(model.entries.iter().any(|(.., used)| used.name == "zucchini"));
    let also =
        format!("{}[library.crop.gherkin]\nlike = \"cucumber\"\nalso = [\"cornichon\"]\n", with("leek", "cornichon"));
    assert_eq!(read(&also).unwrap().names_read[0].entry, "gherkin");
}

#[test]
fn grubs_of_a_lawn_are_at_home_in_it() {
    let lawn = |pest: &str| with("plum sawfly", pest).replace("canopy = \"plum trees\"\n", "");
    let astray = |pest: &str| {
        let model = read(&lawn(pest)).unwrap();
        model.warnings.iter().any(|warning| warning.message.contains("it lives on"))
    };
    for pest in ["japanese beetle", "cockchafer", "garden chafer", "christmas beetle", "grass grub", "leatherjacket"] {
        assert!(!astray(pest), "{pest}");
    }
    assert!(astray("plum sawfly") && astray("codling moth"));
}

/// Dates and numbers in other people's ways: one fault, which gives what to write or asks.
#[test]
fn dates_and_numbers_of_other_hands_are_answered_once() {
    let date = |new: &str| SITE.replace("\"05-05\"", new);
    for (text, wanted) in [
        (date("\"05/28\""), "Did you mean \"05-28\"?"),
        (date("\"28/05\""), "Did you mean \"05-28\"?"),
        (date("\"5-28\""), "Did you mean \"05-28\"?"),
        (date("\"28 May\""), "Did you mean \"05-28\"?"),
        (date("\"05/07\""), "Is it \"05-07\" (7 May) or \"07-05\" (5 July)?"),
        (date("05/28"), "Did you mean in_ground = [\"05-28\", \"09-12\"]?"),
        (date("“05-05”"), "Did you mean in_ground = [\"05-05\", \"09-12\"]?"),
        (SITE.replace("2027-03-01", "07/04/2027"), "Is it \"2027-07-04\" (4 July) or \"2027-04-07\" (7 April)?"),
        (SITE.replace("2027-03-01", "2027-4-1"), "Did you mean start = 2027-04-01?"),
        (SITE.replace("2027-03-01", "\"2027-4-1\""), "Did you mean \"2027-04-01\"?"),
        (SITE.replace("2027-03-01", "\"05/28\""), "Write it with its year, for example 2027-05-28."),
        (SITE.replace("number = 4", "number = four"), "Did you mean number = 4?"),
        (SITE.replace("number = 4", "number = \"four\""), "For example: number = 4"),
        (SITE.replace("\"60 m2\"", "\"1,500 sq ft\""), "Did you mean \"1500 sq ft\"?"),
        (SITE.replace("\"60 m2\"", "1,500 sq ft"), "Did you mean area = \"1500 sq ft\"?"),
        (SITE.replace("\"60 m2\"", "\"sixty m2\""), "Use m2"),
        (SITE.replace("\"60 m2\"", "\"six m2\""), "Did you mean \"6 m2\"?"),
        (SITE.replace("\"60 m2\"", "\"five m2\""), "Did you mean \"5 m2\"?"),
    ] {
        let faults = read(&text).unwrap_err();
        assert_eq!(faults.len(), 1, "{wanted}: {faults:?}");
        assert!(faults[0].1.starts_with(wanted), "{wanted}: {faults:?}");
    }
    assert!(read(&SITE.replace("\"60 m2\"", "\"60\u{a0}m2\"")).is_ok());
}
