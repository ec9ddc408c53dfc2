//! A whole holding of five plots and 14 layers: orders and sizes of its figures by strategy.
//! What is held against is common practice unless a source is named.

mod common;

use common::*;
use sim_engine::gates::spec::StrategyKind;
use sim_engine::measures::{Measure, Measures};
use sim_engine::season::{self, RunOptions};
use sim_engine::summary::{PlotSummary, ReferenceRecorder, Summary};

const CROPS: [(&str, &str, &str); 2] = [
    ("cabbage", "05-05", "09-20"),
    ("broad bean", "03-20", "07-20"),
];

fn holding() -> scenarios::SiteModel {
    let beds: String = CROPS
        .iter()
        .enumerate()
        .map(|(i, (crop, from, to))| {
            let name = format!("beds{i}");
            let more = format!(
                "beds = 0.6\nweeds = [{{ plant = \"chickweed\", seeds = \"2000 per m2\" }}, {{ plant = \"fat hen\", seeds = \"600 per m2\" }}]\n\
                 [[plot.{name}.crop]]\ncrop = \"{crop}\"\nin_ground = [\"{from}\", \"{to}\"]\n\
                 [[plot.{name}.care]]\ntask = \"hoe\"\nevery = \"3 weeks\"\nseason = [\"04-15\", \"08-31\"]\n\
                 [[plot.{name}.care]]\ntask = \"compost\"\nevery = \"1 year\"\nseason = [\"03-15\", \"03-20\"]\n"
            );
            plot(&name, 60.0 - 10.0 * i as f64, 5.0 + 3.0 * i as f64, &more)
        })
        .collect();
    let weeds = "weeds = [{ plant = \"chickweed\", seeds = \"2000 per m2\" }]";
    let orchard = |name: &str, area, distance, canopy: &str, pest: &str| {
        let more = format!("rings = 2\ncanopy = \"{canopy}\"\n{weeds}\n[[plot.{name}.pest]]\nspecies = \"{pest}\"\nstart = \"8 per m2\"");
        plot(name, area, distance, &more)
    };
    let text = format!(
        "{beds}{}{}{}[strategy.turn]\nfixed_turn = {{ order = [\"beds0\", \"beds1\", \"bush\", \"apples\", \"plums\"], stay = \"14 days\", by_area = true }}\n\
         [strategy.equal]\nfixed_turn = {{ order = [\"beds0\", \"beds1\", \"bush\", \"apples\", \"plums\"], stay = \"14 days\" }}\n\
         [strategy.all-open]\nall_open = {{}}\n[strategy.between]\nbetween_crops = {{ stay = \"14 days\", else = \"turn\" }}\n",
        orchard("bush", 40.0, 6.0, "currant bushes", "currant sawfly"),
        orchard("apples", 160.0, 12.0, "apple trees", "apple sawfly"),
        orchard("plums", 140.0, 20.0, "plum trees", "plum sawfly"),
    );
    site("2027-03-01", 3, 14.0, &text)
}

struct Figures {
    measures: Vec<Measures>,
    plots: Vec<Vec<PlotSummary>>,
}

impl Figures {
    fn mean(&self, measure: Measure) -> f64 {
        mean(&self.measures.iter().map(|m| m.get(measure)).collect::<Vec<_>>())
    }
}

fn run_all(model: &scenarios::SiteModel, draws: u64) -> Vec<(String, Figures)> {
    let mut specs = vec![spec(StrategyKind::AllShut)];
    specs[0].name = "no birds".into();
    let mut out: Vec<(String, Figures)> = specs.iter().chain(&model.strategies).map(|s| (s.name.clone(), Figures { measures: Vec::new(), plots: Vec::new() })).collect();
    for draw in 0..draws {
        let drivers = drivers(model, &model.base, draw);
        let mut reference = ReferenceRecorder::default();
        let alone = RunOptions { birds: false, ..RunOptions::default() };
        season::run(&model.base, &drivers, &specs, 0, alone, &mut reference).unwrap();
        for (i, (_, figures)) in out.iter_mut().enumerate() {
            let mut summary = Summary::new(Some(&reference.reference), 0.7);
            if i == 0 {
                season::run(&model.base, &drivers, &specs, 0, alone, &mut summary).unwrap();
            } else {
                season::run(&model.base, &drivers, &model.strategies, i - 1, RunOptions::default(), &mut summary).unwrap();
            }
            figures.measures.push(summary.measures);
            figures.plots.push(summary.plots);
        }
    }
    out
}

#[test]
fn the_figures_of_a_holding_are_of_the_right_size() {
    let model = holding();
    let all = run_all(&model, 4);
    for (name, figures) in &all {
        print!("{name}:");
        for &m in Measure::ALL {
            print!(" {} {:.3};", m.name(), figures.mean(m));
        }
        println!();
        for (p, plot) in model.base.plots.iter().enumerate() {
            let of = |f: fn(&PlotSummary) -> f64| mean(&figures.plots.iter().map(|s| f(&s[p])).collect::<Vec<_>>());
            println!("   {}: cover {:.2}/{:.2} weeds {:.3} open {:.0} N {:.0} leached {:.0}", plot.name, of(|s| s.least_cover), of(|s| s.mean_cover), of(|s| s.weed_cover), of(|s| s.days_open), of(|s| s.nitrogen), of(|s| s.leached));
        }
    }
}
