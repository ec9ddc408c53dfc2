//! Documents that scripts rely on: under their schemas, there and back, and the raw rows beside them.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::compare::ComparePlan;
use analysis::draw_sampler::DrawSampler;
use analysis::experiment::Job;
use analysis::json::{
    AuditFigures, CheckDocument, CompareDocument, NewDocument, RunFacts, ScoreDocument, SeasonDocument,
    SourcesDocument, WeatherDocument, check_document, check_faults_document, compare_document, fit_document,
    new_document, score_document, season_document, sources_csv, sources_document, weather_draw_document,
};
use analysis::sources::{FoundEntry, find};
use analysis::until::compare_until;
use common::schemas::schema;
use common::{checked, compared, draws_csv, from, site};
use scenarios::Library;
use serde_json::{Value, json};
use sim_engine::measures::Measure;

/// Puts a value at a place, there or not.
fn put(document: &mut Value, place: &str, value: Value) {
    let (parent, key) = place.rsplit_once('/').unwrap();
    document.pointer_mut(parent).unwrap()[key] = value;
}

#[test]
fn a_schema_refuses_what_is_spoilt_deep_inside() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["what-we-do-now", "all-open"], 4);
    let run = RunFacts::of(&model, 20, 1.5, 2);
    let good = checked("compare", &compare_document(&model, &c, &from(), Some(run)));
    let compare = schema(good["format"].as_str().unwrap());
    let spoilt = [
        ("/format", json!("hensward.compare/3")),
        ("/input_digest", json!("0123456789abcdef")),
        ("/draws", json!(0)),
        ("/strategies/0/limits/0/chance", json!(1.01)),
        ("/strategies/0/limits/0/low", json!(-0.01)),
        ("/strategies/0/limits/0/held", json!(0.5)),
        ("/strategies/0/aim/mean", json!("many")),
        ("/strategies/0/measures/space/mode", json!(1)),
        ("/strategies/0/measures/space", json!({ "unit": "m2" })),
        ("/no_birds/measures/space/unit", Value::Null),
        ("/verdict/settle", json!("perhaps")),
        ("/verdict/sure", json!(2)),
        ("/run", Value::Null),
        ("/run/seconds", json!(-1)),
    ];
    for (place, value) in spoilt {
        let mut bad = good.clone();
        put(&mut bad, place, value);
        assert!(!compare.is_valid(&bad), "{place} is let pass");
    }
}

#[test]
fn a_comparison_has_the_keys_scripts_rely_on() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["what-we-do-now", "all-open", "by-eye"], 4);
    let run = RunFacts::of(&model, 20, 1.5, 2);
    let value = checked("compare", &compare_document(&model, &c, &from(), Some(run)));
    assert_eq!(value["run"]["plot_days"], 8 * model.base.days as u64 * 20);
    let first = &value["strategies"][0];
    assert_eq!(first["name"], "what-we-do-now");
    assert_eq!(first["measures"].as_object().unwrap().len(), Measure::ALL.len());
    assert_eq!(first["measures"]["cover_loss"]["difference"]["mean"], 0.0);
    assert!(first["measures"]["feed_saved"]["difference_to_shut_in"]["mean"].as_f64().unwrap() > 0.0);
    assert!(first["limits"][0]["chance"].is_number());
    assert_eq!(value["shut_in"]["measures"]["cover_loss"]["mean"], 0.0);
    assert_eq!(value["aim_unit"], "h");
    // What plots bear adds up to what the site does.
    for run in [first, &value["shut_in"]] {
        let harvest = run["harvest"].as_array().unwrap();
        let kept: f64 = harvest.iter().map(|of| of["kept_kg"].as_f64().unwrap()).sum();
        let all = run["measures"]["harvest_kept"]["mean"].as_f64().unwrap();
        assert!(all > 0.0 && (kept - all).abs() < 1e-9 * all, "{kept} {all}");
        assert!(harvest.iter().all(|of| of["plant"] != "" && of["plot"] != ""));
    }
    // Blank, not nought: no flock, no room per bird.
    assert!(value["no_birds"]["measures"]["space"]["mean"].is_null());
    assert!(value["nothing"]["measures"]["weed_cover"]["mean"].is_number());
}

#[test]
fn a_comparison_says_over_which_rates_it_holds() {
    let (model, _) = site(|model| model.limits.all.clear());
    let c = compared(&model, &["what-we-do-now", "all-open", "by-eye"], 4);
    let value = checked("compare", &compare_document(&model, &c, &from(), None));
    let rates = &value["rates"];
    assert_eq!(rates["leader"], value["verdict"]["leader"]);
    let aims = rates["aims"].as_array().unwrap();
    assert_eq!(aims.len(), model.aims.iter().filter(|(_, rate)| *rate != 0.0).count());
    for (aim, (measure, rate)) in aims.iter().zip(model.aims.iter().filter(|(_, rate)| *rate != 0.0)) {
        assert_eq!((aim["measure"].as_str(), aim["rate"].as_f64()), (Some(measure.name()), Some(*rate)));
        assert_eq!(aim["unit"], format!("h per {}", measure.unit()));
        assert_eq!(aim["least"].is_null(), aim["least_by"].is_null());
        assert_eq!(aim["most"].is_null(), aim["most_by"].is_null());
    }
}

/// All open breaks a limit at once and is tried no further; what it was tried on is told.
#[test]
fn a_comparison_until_sure_tells_how_long_each_stayed_in() {
    let (model, _) = site(|_| ());
    let which = ["all-open", "by-eye"].map(|name| model.strategy(name).unwrap()).to_vec();
    let plan =
        ComparePlan { seed: 1, draws: 64, which, against: 0, required_reliability: 0.9, indifference_share: 0.05 };
    let c = compare_until(&model, &plan, 0.95, None, &Job::unheard()).unwrap();
    assert_eq!((c.counted.as_slice(), c.finished), ([32, 64].as_slice(), 64));
    let value = checked("compare", &compare_document(&model, &c, &from(), None));
    let until = &value["until_sure"];
    assert_eq!((&until["answer"], &until["strategies"][1]["fate"]), (&"out_of_years".into(), &"undecided".into()));
    let out = serde_json::json!({"name": "all-open", "draws": 32, "fate": "fails", "by": null, "limit": "least_cover"});
    assert_eq!(until["strategies"][0], out);
    assert_eq!(value["strategies"][0]["draws"], 32);
    let rows = draws_csv(&c);
    assert_eq!(rows.lines().filter(|line| line.contains(",all-open,")).count(), 32);
    assert_eq!(rows.lines().count(), 1 + 32 + 64 + 3 * 64);
}

#[test]
fn files_carry_no_clock() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["by-eye"], 1);
    let document: CompareDocument = compare_document(&model, &c, &from(), None);
    let value = checked("compare", &document);
    assert!(value.get("run").is_none());
    // One draw tells no interval.
    assert!(value["strategies"][0]["aim"]["low"].is_null());
}

#[test]
fn raw_rows_stand_beside_the_summary() {
    let (model, _) = site(|_| ());
    let c = compared(&model, &["by-eye", "all-open"], 3);
    let csv = draws_csv(&c);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let heads: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    assert_eq!(heads[..4], ["draw", "run", "kind", "aim[h/yr]"]);
    assert_eq!(heads.len(), 4 + Measure::ALL.len());
    assert!(heads.contains(&"nitrogen_load[kg/ha/yr]".to_owned()));
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 3 * (2 + 3));
    let aims: Vec<f64> = rows.iter().filter(|r| &r[1] == "by-eye").map(|r| r[3].parse().unwrap()).collect();
    assert_eq!(aims, c.aims[0]);
    let space = heads.iter().position(|h| h.starts_with("space[")).unwrap();
    assert!(rows.iter().filter(|r| &r[2] == "no_birds").all(|r| r[space].is_empty()));
}

#[test]
fn a_season_has_its_audit_and_plots() {
    let (model, _) = site(|_| ());
    let draw = DrawSampler { seed: 7 }.draw(&model, 0);
    let season = analysis::season::simulate(&model, &draw, 0, None).unwrap();
    let document: SeasonDocument = season_document(&model, &season, 0, 0, &from(), None);
    assert_ne!(document.audit, AuditFigures::default());
    let value = checked("season", &document);
    let kept: f64 = value["harvest"].as_array().unwrap().iter().map(|of| of["kept_kg"].as_f64().unwrap()).sum();
    assert!((kept - season.measures.get(Measure::HarvestKept)).abs() < 1e-9 * kept);
    assert_eq!(value["plots"].as_array().unwrap().len(), model.base.plots.len());
    assert!(value["audit"]["water"].as_f64().unwrap() < 1e-9);
    assert_eq!(value["measures"]["gate_moves"]["unit"], "moves/yr");
}

#[test]
fn a_check_says_what_was_understood_or_what_is_wrong() {
    let (model, library) = site(|_| ());
    let document: CheckDocument = check_document(&model, &library, &from(), None);
    let value = checked("check", &document);
    assert_eq!(value["ok"], true);
    assert_eq!(value["cautions"].as_array().unwrap().len(), 13);
    let wrong =
        scenarios::site_file::read_text("bad.toml", "format = 2\nname = [\n", &Library::shipped().unwrap(), &|_| {
            Err(String::new())
        });
    let value = checked("check", &check_faults_document("bad.toml", &wrong.unwrap_err(), &from(), None));
    assert_eq!(value["ok"], false);
    assert!(value["faults"].as_array().unwrap().iter().any(|f| f["line"].as_u64() > Some(0)));
}

#[test]
fn weather_documents_keep_their_schema() {
    let (model, _) = site(|_| ());
    let days = model.weather.draw(7, 1, model.base.start, 3 * 366);
    let fitted = sim_engine::weather::fit::fit(&days).unwrap();
    let agreement = sim_engine::weather::agreement::agreement(&fitted.climate, &days, 7, 20).unwrap();
    let document: WeatherDocument = fit_document("my.csv", &days, 2, &fitted, Some(&agreement), &from(), None);
    let value = checked("weather", &document);
    assert!(!value["checks"].as_array().unwrap().is_empty());
    let value = checked("weather", &weather_draw_document("a site", &days, &from(), None));
    assert_eq!(value["days"], 3 * 366);
}

#[test]
fn the_library_is_a_document_and_a_table() {
    let library = Library::shipped().unwrap();
    let all = FoundEntry::all(&library);
    let document: SourcesDocument = sources_document("", &all, &from(), None);
    let value = checked("sources", &document);
    assert_eq!(value["entries"].as_array().unwrap().len(), all.params.len());
    let memory = value["from_memory"]["names"].as_array().unwrap().len();
    let kind =
        |word: &str| value["kinds"].as_array().unwrap().iter().find(|k| k["kind"] == word).unwrap()["numbers"].as_u64();
    assert_eq!(kind("from memory"), Some(memory as u64));
    let names: std::collections::BTreeSet<&str> =
        value["entries"].as_array().unwrap().iter().map(|entry| entry["name"].as_str().unwrap()).collect();
    assert_eq!(names.len(), all.params.len());
    assert!(names.contains("pest.european cherry fruit fly.emergence") && names.contains("process.light_half"));
    let csv = sources_csv(&all);
    assert_eq!(csv::Reader::from_reader(csv.as_slice()).records().count(), all.params.len());
    let plant = checked("sources", &sources_document("yew", &find(&library, "yew").unwrap(), &from(), None));
    assert_eq!(plant["harmful_plants"][0]["plant"], "yew");
    assert!(plant["from_memory"]["share"].is_null());
}

/// Twenty problems are scored elsewhere; here one, against a best that gains nothing too.
#[test]
fn a_score_keeps_its_schema() {
    let problem = scenarios::problems::problems()[0];
    let best = scenarios::problems::best().remove(0);
    let library = Library::shipped().unwrap();
    let plain = scenarios::problems::PLAIN;
    let model = scenarios::problems::with_strategies(problem, "plain.toml", plain, &library, &|_| Err(String::new()));
    let played = analysis::score::play(&model.unwrap(), best.seed, 0, &Job::unheard()).unwrap();
    let nothing = scenarios::problems::Best { aim: 0.0, ..best.clone() };
    let document: ScoreDocument = score_document("mine", &[(played.clone(), best), (played, nothing)], &from());
    let value = checked("score", &document);
    assert_eq!((value["problems"][0]["draws"].as_u64(), value["problems"][0]["share"].as_f64()), (Some(30), Some(0.0)));
    assert!(value["problems"][1]["share"].is_null());
}

#[test]
fn a_starter_says_what_it_wrote() {
    let next = ["hensward check my-garden".to_owned()];
    let document: NewDocument =
        new_document("my-garden", ("orchard", "An orchard."), "my-garden/site.toml", &next, &from(), None);
    let value = checked("new", &document);
    assert_eq!(value["starter"], "orchard");
}
