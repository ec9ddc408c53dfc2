//! What may be asked of any site that passes `check`: an end, finite figures, books that balance.

use super::{draws_csv, from};
use analysis::compare::{ComparePlan, compare};
use analysis::draw_sampler::DrawSampler;
use analysis::experiment::Job;
use analysis::json::{compare_document, text};
use analysis::ledger::Digits;
use analysis::report::{CompareView, SeasonView, compare_report, season_report};
use analysis::season::{likely, simulate};
use analysis::units::Units;
use scenarios::{Library, SiteModel};
use std::any::Any;
use std::time::Duration;

/// A site takes some tenths of a second; one that takes so long hangs.
pub const LONGEST: Duration = Duration::from_secs(60);

/// Ends the test, with the site that hangs, after [`LONGEST`].
pub struct Watched(Option<std::sync::mpsc::Sender<()>>);

impl Watched {
    pub fn over(said: String) -> Self {
        let (done, wait) = std::sync::mpsc::channel::<()>();
        std::thread::spawn(move || {
            if wait.recv_timeout(LONGEST) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) {
                println!("hangs: {said}");
                eprintln!("hangs: {said}");
                std::process::exit(1);
            }
        });
        Self(Some(done))
    }
}

impl Drop for Watched {
    fn drop(&mut self) {
        drop(self.0.take());
    }
}

/// What a panic said.
pub fn words(panic: &(dyn Any + Send)) -> String {
    let text = panic.downcast_ref::<String>().cloned();
    text.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned())).unwrap_or_default()
}

/// A comparison of all strategies, with all its files.
pub fn compared(model: &SiteModel, library: &Library, draws: usize) -> Result<(), String> {
    let plan = ComparePlan {
        seed: 7,
        draws,
        which: (0..model.strategies.len()).collect(),
        against: 0,
        required_reliability: 0.9,
        indifference_share: 0.05,
    };
    let comparison = compare(model, &plan, None, &Job::unheard()).map_err(|error| format!("compare, {error}"))?;
    let likely = likely(model, plan.seed, None, comparison.leading()).map_err(|error| format!("likely, {error}"))?;
    let made = from();
    let view = CompareView {
        model,
        library,
        comparison: &comparison,
        from: &made,
        likely: &likely,
        notes: &[],
        units: Units::Metric,
    };
    let document = compare_document(model, &comparison, &made, None);
    for (file, said) in [
        ("report.html", compare_report(&view).html),
        ("draws.csv", draws_csv(&comparison)),
        ("summary.json", text(&document).unwrap()),
    ] {
        no_strange_figure(file, &said)?;
    }
    Ok(())
}

/// A season of the last strategy, with its page.
pub fn season(model: &SiteModel, library: &Library) -> Result<(), String> {
    let which = model.strategies.len() - 1;
    let draw = DrawSampler { seed: 7 }.draw(model, 1);
    let season = simulate(model, &draw, which, Some(Digits::Short)).map_err(|error| format!("season, {error}"))?;
    let made = from();
    let view = SeasonView { model, library, draw: &draw, which, season: &season, from: &made, units: Units::Metric };
    no_strange_figure("season.html", &season_report(&view).html)
}

/// A word of a page or table that is no finite number.
fn no_strange_figure(file: &str, said: &str) -> Result<(), String> {
    let strange = |word: &str| matches!(word, "NaN" | "nan" | "inf" | "infinity" | "Infinity");
    let mut words = said.split(|letter: char| !letter.is_alphanumeric());
    words.find(|word| strange(word)).map_or(Ok(()), |word| Err(format!("{word} in {file}")))
}
