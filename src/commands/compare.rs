//! `hensward compare SITE`: strategies on the same possible years.

use super::inputs::{mention_warnings, share, strategies, strategy};
use super::outputs::{add_charts, check_png, provenance, take, write};
use super::station_days::{self, ForcedWeather};
use crate::common::Common;
use crate::problem::CommandError;
use crate::progress::Meter;
use crate::sites::{self, Opened};
use crate::whole::whole;
use crate::{screen, stop};
use analysis::compare::{CompareError, ComparePlan, Comparison, compare};
use analysis::experiment::Job;
use analysis::json::{CompareDocument, DrawsError, RunFacts, compare_csv, compare_document, text as document_text};
use analysis::output::{Files, OutputError};
use analysis::report::{CompareView, compare_report};
use analysis::season::likely;
use analysis::select::{self, FIRST};
use analysis::table::{compare_table, paragraph};
use analysis::units::Units;
use analysis::until::compare_until;
use analysis::wording::limit_in_words;
use clap::Args;
use scenarios::SiteModel;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Runs of a draw besides the strategies': birds shut in, no birds, and neither birds nor care.
const BASELINES: u64 = 3;

/// Files it writes, whatever is asked.
const FILES: [&str; 3] = ["report.html", DRAWS, "summary.json"];
/// The table of all possible years.
const DRAWS: &str = "draws.csv";

/// What can be asked.
#[derive(Args, Debug)]
pub struct CompareArgs {
    /// A site file, a folder that holds site.toml, or a demo's name
    pub site: String,
    /// A strategy to compare; may be given more than once [default: all of the site]
    #[arg(long = "strategy", value_name = "NAME")]
    pub strategies: Vec<String>,
    /// The strategy the others are set against [default: that of the site]
    #[arg(long, value_name = "NAME")]
    pub against: Option<String>,
    /// Possible years [default: those of the site]
    #[arg(long, value_name = "N", value_parser = whole::<u32>(1, 1_000_000))]
    pub draws: Option<u32>,
    /// Add possible years until the best is known with this chance of being right, and try
    /// beaten strategies no further
    #[arg(long, value_name = "SHARE", value_parser = certainty, conflicts_with = "draws")]
    pub until_sure: Option<f64>,
    /// Most possible years with --until-sure
    #[arg(long, value_name = "N", default_value_t = 5_000, requires = "until_sure", value_parser = whole::<u32>(FIRST as u64, 100_000))]
    pub most_draws: u32,
    /// Lead worth a change of strategy, as a share of the best's gain over birds shut in
    #[arg(long, value_name = "SHARE", value_parser = share)]
    pub worth: Option<f64>,
    /// Share of possible years in which every limit must hold
    #[arg(long, value_name = "SHARE", value_parser = share)]
    pub sure: Option<f64>,
    /// Run on a station's days; possible years then differ in the unknowns only
    #[arg(long, value_name = "FILE.csv")]
    pub weather: Option<PathBuf>,
    /// Every chart also as PNG
    #[arg(long)]
    pub png: bool,
}

/// Compares.
///
/// # Errors
/// Faults of the site or the options; a stop; what the system refused.
pub fn run(args: &CompareArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    check_png(args.png)?;
    let mut opened = sites::open(&args.site)?;
    mention_warnings(&opened.model, &args.site, common);
    let plan = plan(args, common, &opened)?;
    let laid = match &args.weather {
        Some(path) => Some(station_days::lay(path, &mut opened)?),
        None => None,
    };
    let mut folder = take(common, &opened.label, "compare", &opened.origin, &FILES)?;
    let mut notes = notes(args, &opened, &plan, laid.as_ref());
    notes.iter().for_each(|note| screen::talk(common.quiet, note));
    let comparison = go(args, &opened, &plan, laid.as_ref(), common)?;
    notes.extend(stayed(&opened, &comparison));
    let from = provenance(common, &opened.inputs);
    let mut document = compare_document(&opened.model, &comparison, &from, None);
    document.weather = laid.as_ref().map(ForcedWeather::used);
    document.notes.clone_from(&notes);
    let days = laid.as_ref().map(|laid| laid.days.as_slice());
    let leading = comparison.plan.which[comparison.leading()];
    let likely = likely(&opened.model, common.seed, days, leading).map_err(CompareError::from)?;
    let output = CompareView {
        model: &opened.model,
        library: &opened.library,
        comparison: &comparison,
        from: &from,
        likely: &likely,
        notes: &notes,
        units: common.units_of(&opened.model),
    };
    let path = folder.path().join(DRAWS);
    folder.stream(DRAWS, |file| write_draws(&comparison, file, &path))?;
    write(&files(&output, &document, args.png)?, &mut folder, common)?;
    show(common, &opened, &comparison, document, begun)?;
    let finished = comparison.finished;
    let plan = &comparison.plan;
    if finished < plan.draws {
        let words = format!(
            "Stopped: {finished} of {} possible years were finished, and all above is about these.",
            plan.draws
        );
        return Err(CommandError::Stopped(words));
    }
    Ok(())
}

/// The plan: what was asked, else what the site says.
fn plan(args: &CompareArgs, common: &Common, opened: &Opened) -> Result<ComparePlan, CommandError> {
    let model = &opened.model;
    let mut which = strategies(model, &args.strategies)?;
    let against = match &args.against {
        Some(name) => strategy(model, "--against", name)?,
        None if which.contains(&model.compare.against) => model.compare.against,
        None => which[0],
    };
    // A strategy the others are set against is compared too.
    let against = which.iter().position(|&s| s == against).unwrap_or_else(|| {
        which.push(against);
        which.len() - 1
    });
    let wanted = wanted(args, model);
    let distinct = if args.weather.is_some() { None } else { model.weather.distinct_draws() };
    let draws = distinct.map_or(wanted, |years| wanted.min(years));
    can_be_known(args, model, draws, which.len())?;
    Ok(ComparePlan {
        seed: common.seed,
        draws,
        which,
        against,
        required_reliability: args.sure.unwrap_or(model.compare.required_reliability),
        indifference_share: args.worth.unwrap_or(model.compare.indifference_share),
    })
}

/// Possible years asked for; with --until-sure the most.
fn wanted(args: &CompareArgs, model: &SiteModel) -> usize {
    let draws = if args.until_sure.is_some() { Some(args.most_draws) } else { args.draws };
    draws.unwrap_or(model.draws) as usize
}

/// Refuses what no number of possible years can settle.
fn can_be_known(args: &CompareArgs, model: &SiteModel, draws: usize, strategies: usize) -> Result<(), CommandError> {
    let refuse = |fault: String, remedy: &str| Err(CommandError::argument("--until-sure", fault, remedy));
    if args.until_sure.is_none() {
        return Ok(());
    }
    if strategies < 2 {
        return refuse(
            "there is one strategy, and nothing to choose between".to_owned(),
            "Name another with --strategy, or say how many possible years with --draws.",
        );
    }
    if draws < FIRST {
        let fault = format!("there are only {draws} possible years, and it begins with {FIRST}");
        return refuse(fault, "Leave it out, or let the weather be generated: use = \"generator\".");
    }
    if args.worth.unwrap_or(model.compare.indifference_share) <= 0.0 {
        return refuse("no lead is too small to be worth a change".to_owned(), "Give --worth a share above 0.");
    }
    if args.sure.unwrap_or(model.compare.required_reliability) >= 1.0 && !model.limits.all.is_empty() {
        let fault = "no number of possible years shows that a limit never fails".to_owned();
        return refuse(fault, "Ask for a share below 1 with --sure, for example 0.95.");
    }
    Ok(())
}

/// Parses the chance of --until-sure.
fn certainty(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(chance) if (0.5..=0.9999).contains(&chance) => Ok(chance),
        _ => Err("write a chance from 0.5 to 0.9999, for example 0.95".to_owned()),
    }
}

/// What a reader should know before the figures.
fn notes(args: &CompareArgs, opened: &Opened, plan: &ComparePlan, laid: Option<&ForcedWeather>) -> Vec<String> {
    let wanted = wanted(args, &opened.model);
    let mut notes = Vec::new();
    if let Some(laid) = laid {
        notes.push(format!("{} All possible years share it; they differ in the unknowns only.", laid.words()));
    } else if plan.draws < wanted {
        notes.push(format!(
            "The station file has {} whole years, so there are {} possible years, not {wanted}; the ranges are wide for it.",
            plan.draws, plan.draws
        ));
    }
    if plan.draws == 1 {
        notes.push("One possible year gives no ranges; ask for more with --draws.".to_owned());
    }
    notes
}

/// Runs it, with progress, until done or stopped.
fn go(
    args: &CompareArgs,
    opened: &Opened,
    plan: &ComparePlan,
    laid: Option<&ForcedWeather>,
    common: &Common,
) -> Result<Comparison, CommandError> {
    let stop = stop::listen(common.quiet)?;
    let meter = Meter::new(common.progress, common.quiet, plan.draws);
    let days = laid.map(|laid| laid.days.as_slice());
    let progress = |count| meter.done(count);
    let job = Job::new(stop, &progress);
    let done = match args.until_sure {
        Some(sure) => compare_until(&opened.model, plan, sure, days, &job),
        None => compare(&opened.model, plan, days, &job),
    };
    meter.finish();
    done.map_err(|error| match error {
        CompareError::Stopped => {
            CommandError::Stopped("Stopped before any possible year was finished; nothing was written.".to_owned())
        }
        error => CommandError::from(error),
    })
}

/// With --until-sure: how long each strategy stayed in, and why no longer.
fn stayed(opened: &Opened, comparison: &Comparison) -> Option<String> {
    let limits: Vec<String> =
        opened.model.limits.all.iter().map(|limit| limit_in_words(limit, Units::Metric)).collect();
    Some(select::stayed(comparison.selection.as_ref()?, &comparison.names, &limits))
}

fn files(output: &CompareView<'_>, document: &CompareDocument, png: bool) -> Result<Files, CommandError> {
    let mut files = Files::default();
    let report = compare_report(output);
    files.add("report.html", report.html);
    add_charts(&mut files, &report.charts, png)?;
    files.add("summary.json", document_text(document)?);
    Ok(files)
}

/// The rows of all possible years, which may be larger than memory.
fn write_draws(comparison: &Comparison, file: &mut dyn Write, path: &Path) -> Result<(), CommandError> {
    compare_csv(comparison, file).map_err(|error| match error {
        DrawsError::Spill(error) => CompareError::from(error).into(),
        DrawsError::Write(cause) => OutputError { path: path.to_owned(), cause }.into(),
    })
}

fn show(
    common: &Common,
    opened: &Opened,
    comparison: &Comparison,
    mut document: CompareDocument,
    begun: Instant,
) -> Result<(), CommandError> {
    if common.json {
        let strategies: usize = comparison.counted.iter().sum();
        let runs = strategies as u64 + comparison.finished as u64 * BASELINES;
        let seconds = begun.elapsed().as_secs_f64();
        document.run = Some(RunFacts::of(&opened.model, runs, seconds, rayon::current_num_threads()));
        return screen::print(&document_text(&document)?);
    }
    screen::print(&words(opened, comparison, &document.notes, common.units_of(&opened.model)))
}

/// Table and verdict, after what a reader should know.
fn words(opened: &Opened, comparison: &Comparison, notes: &[String], units: Units) -> String {
    let notes: String = notes.iter().map(|note| paragraph(note)).collect();
    let gap = if notes.is_empty() { "" } else { "\n" };
    format!("{notes}{gap}{}", compare_table(&opened.model, comparison, units))
}
