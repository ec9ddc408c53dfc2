//! A plot whose beds fill it has no sward to keep: no figure of cover is of it, and what is told of cover is of the others.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::draw_sampler::DrawSampler;
use analysis::experiment::{ArmId, Job, outcome_given};
use analysis::json::season_document;
use analysis::lesson::{LessonError, LessonSpec, first_year, make, play::play_one};
use analysis::report::{CompareView, SeasonView, compare_report, season_report};
use analysis::season::{Season, likely, simulate, why};
use analysis::units::Units;
use common::{checked, compared, from};
use scenarios::{Library, SiteModel, site_file};
use sim_engine::gates::{Observation, Proposal, Strategy};
use sim_engine::measures::Measure;

/// A kitchen garden that is all beds, bare over winter, and a meadow; `beds` of the meadow too.
fn site(beds: f64) -> SiteModel {
    let crops = "[[plot.meadow.crop]]\ncrop = \"cabbage\"\nin_ground = [2027-05-15, 2027-11-20]\n";
    let text = format!(
        "format = 2\nlatitude = \"51 deg\"\n[run]\nstart = 2027-03-01\nyears = 1\n[weather]\nclimate = \"cool-maritime\"\n\
         [yard]\narea = \"20 m2\"\n[house]\nnight_share = 0.45\n[birds.flock]\nclass = \"layer\"\nnumber = 8\n\
         [plot.kitchen]\narea = \"80 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\nbeds = 1.0\n\
         [[plot.kitchen.crop]]\ncrop = \"cabbage\"\nin_ground = [2027-05-15, 2027-11-20]\n\
         [plot.meadow]\narea = \"200 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\nbeds = {beds}\n{}\
         [strategy.open]\nall_open = {{}}\n[strategy.shut]\nall_shut = {{}}\n\
         [strategy.eye]\nby_eye = {{ enter_above = 0.9, leave_below = 0.75 }}\n",
        if beds > 0.0 { crops } else { "" }
    );
    let none = |_: &str| Err(String::new());
    let library = Library::shipped().unwrap();
    site_file::read_text("site.toml", &text, &library, &none).unwrap_or_else(|faults| panic!("{faults}"))
}

const MEADOW: f64 = 0.0;
const BEDS: f64 = 1.0;
/// The plots in the order of the file.
const KITCHEN: usize = 0;
const GRASS: usize = 1;

fn season(model: &SiteModel) -> Season {
    simulate(model, &DrawSampler { seed: 7 }.draw(model, 0), 0, None).unwrap()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} is not {b}");
}

#[test]
fn its_figures_of_cover_are_blank_and_the_sites_are_of_the_rest() {
    let model = site(MEADOW);
    let season = season(&model);
    let [kitchen, meadow] = [KITCHEN, GRASS].map(|plot| &season.plots[plot]);
    assert!(
        [kitchen.least_cover, kitchen.mean_cover, kitchen.days_under, kitchen.bare_days].iter().all(|f| f.is_nan())
    );
    assert!(kitchen.weed_cover.is_finite() && kitchen.days_open > 0.0 && meadow.mean_cover > 0.0);
    assert!(season.cover[KITCHEN].iter().chain(&season.cover_shut_in[KITCHEN]).all(|cover| cover.is_nan()));
    assert!(season.cover[GRASS].iter().chain(&season.cover_shut_in[GRASS]).all(|cover| !cover.is_nan()));
    let of = |measure| season.measures.get(measure);
    near(of(Measure::LeastCover), meadow.least_cover);
    near(of(Measure::MeanCover), meadow.mean_cover);
    near(of(Measure::DaysUnder), meadow.days_under);
    near(of(Measure::BareDays), meadow.bare_days);
}

#[test]
fn where_all_plots_are_beds_the_measures_are_blank_and_every_limit_on_cover_holds() {
    let model = site(BEDS);
    let season = season(&model);
    for measure in [Measure::LeastCover, Measure::MeanCover, Measure::DaysUnder, Measure::BareDays] {
        assert!(season.measures.get(measure).is_nan(), "{}", measure.name());
    }
    assert_eq!(season.measures.get(Measure::CoverLoss), 0.0);
    let c = compared(&model, &["open", "shut"], 4);
    assert!(c.figure(ArmId::Strategy(0), Measure::LeastCover).is_none());
    assert!(c.least_cover(ArmId::Strategy(0)).iter().all(Option::is_none));
    let limits = c.verdict.standings.iter().flat_map(|standing| &standing.limits);
    let of_cover = limits.filter(|l| [Measure::LeastCover, Measure::BareDays].contains(&l.limit.measure));
    assert_eq!(of_cover.map(|limit| limit.held).collect::<Vec<_>>(), [4; 4]);
}

#[test]
fn json_has_null() {
    let model = site(MEADOW);
    let value = checked("season", &season_document(&model, &season(&model), 0, 0, &from(), None));
    for key in ["least_cover", "mean_cover", "days_under", "bare_days"] {
        assert!(value["plots"][KITCHEN][key].is_null() && value["plots"][GRASS][key].is_number(), "{key}");
    }
    let draw = DrawSampler { seed: 7 }.draw(&model, 0);
    let told = |plot: usize| why(&model, &draw, 0, plot, 5).unwrap().unwrap().cover_later.0;
    assert!(told(KITCHEN).is_nan() && told(GRASS) > 0.0);
}

/// Of each day the least cover is the meadow's, however bare the beds.
#[test]
fn the_least_cover_of_a_day_is_that_of_the_sward() {
    let model = site(MEADOW);
    let c = compared(&model, &["shut", "open"], 2);
    let days = c.least_cover(ArmId::ShutIn).iter();
    let least = days.map(|day| day.unwrap().p05).fold(100.0, f64::min);
    assert!(least > 50.0, "a mown meadow at rest is never half bare: {least}");
}

#[test]
fn pages_and_charts_say_all_beds() {
    let library = Library::shipped().unwrap();
    for (beds, cover_charts) in [(MEADOW, true), (BEDS, false)] {
        let model = site(beds);
        let draw = DrawSampler { seed: 7 }.draw(&model, 0);
        let season = season(&model);
        let from = from();
        let view = SeasonView {
            model: &model,
            library: &library,
            draw: &draw,
            which: 0,
            season: &season,
            from: &from,
            units: Units::Metric,
        };
        let report = season_report(&view);
        let has = |name: &str| report.charts.iter().any(|(of, _)| of == name);
        assert_eq!(has("cover"), cover_charts);
        let of = |name: &str| &report.charts.iter().find(|(of, _)| of == name).unwrap().1;
        let kitchen = of("season").alt.split("kitchen: ").nth(1).unwrap();
        assert!(kitchen.split('.').next().unwrap().ends_with("all beds"), "{}", of("season").alt);
        assert!(of("plot-1").svg.contains("; all beds") && !of("plot-1").svg.contains("Ground cover"));
        let comparison = compared(&model, &["open", "eye"], 4);
        let likely = likely(&model, 7, None, comparison.plan.which[comparison.leading()]).unwrap();
        let report = compare_report(&CompareView {
            model: &model,
            library: &library,
            comparison: &comparison,
            from: &from,
            likely: &likely,
            notes: &[],
            units: Units::Metric,
        });
        assert_eq!(report.charts.iter().any(|(of, _)| of == "least-cover"), cover_charts);
        let kitchen = report.html.split("id=\"plot-1\"").nth(1).unwrap().split("</article>").next().unwrap();
        assert!(kitchen.contains("all beds, no ground cover to keep"), "{kitchen}");
        assert!(!kitchen.contains("Least cover") && !kitchen.contains("cover falls") && !kitchen.contains("NaN"));
        assert!(!report.html.contains("Ground cover of kitchen"));
    }
}

#[test]
fn a_lesson_asks_about_and_draws_the_sward() {
    let model = first_year(site(MEADOW));
    let draw = DrawSampler { seed: 7 }.draw(&model, 0);
    let shown = play_one(&model, &draw, &[0, 2]).unwrap();
    assert!(shown.strategies.iter().all(|year| year.ground.barest().0 == GRASS));
    let spec =
        LessonSpec { which: (0, Some(2)), seed: 7, number: 0, draws: 2, weather: None, note: "", units: Units::Metric };
    let lesson = make(model, &spec, &Job::unheard()).unwrap();
    assert_eq!(lesson.drawn_plot(), GRASS);
    let none = make(first_year(site(BEDS)), &spec, &Job::unheard());
    assert!(matches!(none, Err(LessonError::NoSward)));
}

/// Keeps what a keeper sees over the gates; opens none.
#[derive(Default)]
struct Looks(Vec<f64>);

impl Strategy for Looks {
    fn propose(&mut self, seen: &Observation, _: &mut Proposal) -> bool {
        self.0.push(seen.plots[KITCHEN].cover);
        true
    }
}

/// By the look of the ground is by what there is: bare beds, then cabbages.
#[test]
fn a_strategy_sees_what_there_is_on_the_beds() {
    let model = site(MEADOW);
    let mut looks = Looks::default();
    outcome_given(DrawSampler { seed: 7 }.draw(&model, 0), &model, &mut looks).unwrap();
    assert!(looks.0.iter().all(|cover| (0.0..=1.0).contains(cover)));
    let [least, most] = [f64::min, f64::max].map(|pick| looks.0.iter().copied().reduce(pick).unwrap());
    assert!(least < 0.3 && most > 0.5, "{least} to {most}");
}
