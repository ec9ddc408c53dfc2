//! `hensward score`: a strategy on the open problem set.

mod words;

use super::inputs::strategy;
use super::outputs::{take, write};
use crate::common::Common;
use crate::external_strategy::{ExternalStrategy, Family, Halt, Limits};
use crate::problem::CommandError;
use crate::progress::Meter;
use crate::sites::{digest, our_fault, text_of};
use crate::{screen, stop};
use analysis::compare::{CompareError, Comparison};
use analysis::experiment::Job;
use analysis::json::{RunFacts, ScoreDocument, score_document, text as document_text};
use analysis::output::Files;
use analysis::provenance::Provenance;
use analysis::results::SiteOrigin;
use analysis::score::{play, play_given};
use clap::Args;
use scenarios::nearest::did_you_mean;
use scenarios::problems::{Best, PLAIN, Problem, best, problems, with_strategies};
use scenarios::{Faults, Library, SiteModel};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Name of the results folder's parent.
const LABEL: &str = "problems";
/// The strategy made of a list of dates.
const LIST: &str = "list-of-dates";
/// Runs of a possible year besides the strategy's.
const BASELINES: u64 = 3;
/// The longest that may be given a program in all.
const WEEK_S: u32 = 604_800;

/// What can be asked.
#[derive(Args, Debug)]
pub struct ScoreArgs {
    /// A file of strategies ([strategy.NAME] as in a site file), or a list of gate dates (.csv)
    #[arg(value_name = "STRATEGY.toml|gates.csv", required_unless_present = "program")]
    pub file: Option<PathBuf>,
    /// Which strategy of the file [default: the first]
    #[arg(long, value_name = "NAME", conflicts_with = "program")]
    pub strategy: Option<String>,
    /// A program that answers day by day on standard input and output, for example "python3 my.py"
    #[arg(long, value_name = "COMMAND", conflicts_with = "file")]
    pub program: Option<String>,
    /// Seconds the program has for each answer
    #[arg(long, value_name = "SECONDS", default_value_t = 5.0, value_parser = seconds(3600))]
    #[arg(requires = "program", conflicts_with = "file")]
    pub within: f64,
    /// Seconds the program has for all its answers, from its start
    #[arg(long, value_name = "SECONDS", default_value_t = 3600.0, value_parser = seconds(WEEK_S))]
    #[arg(requires = "program", conflicts_with = "file")]
    pub in_all: f64,
    /// A problem; may be given more than once [default: all]
    #[arg(long = "problem", value_name = "NAME")]
    pub problems: Vec<String>,
}

/// Scores.
///
/// # Errors
/// Faults of the strategy, the program or the options; a stop; what the system refused.
pub fn run(args: &ScoreArgs, common: &Common) -> Result<(), CommandError> {
    let begun = Instant::now();
    let library = Library::shipped().map_err(our_fault)?;
    let chosen = chosen(args, common)?;
    // Whatever is scored, the problems are the same: the last score stands.
    let problems = SiteOrigin::Named("the open problems".to_owned());
    let mut folder = take(common, LABEL, "score", &problems, &["score.txt", "summary.json"])?;
    let family = Arc::new(Family::default());
    let to_end = Arc::clone(&family);
    let job = Job::new(stop::listen_and(common.quiet, move || to_end.end())?, &|_| ());
    let meter = Meter::new(common.progress, common.quiet, chosen.len());
    let scored = match (&args.program, &args.file) {
        (Some(command), _) => {
            let [within, in_all] = [args.within, args.in_all].map(Duration::from_secs_f64);
            by_program(command, (Limits { within, in_all }, family), &chosen, &library, (&meter, &job))
        }
        (None, Some(file)) => by_file(file, args, &chosen, &library, (&meter, &job)),
        // clap asks for one of them.
        (None, None) => return Err(CommandError::argument("score", "nothing to score", "Give a strategy file.")),
    };
    meter.finish();
    let Scored { name, played, runs, input } = scored?;
    let seed = chosen.first().map_or(0, |(_, best)| best.seed);
    let mut document = score_document(&name, &played, &Provenance::new(seed, digest(&[("strategy", input)])));
    write(&files(&document)?, &mut folder, common)?;
    if common.json {
        document.run = Some(facts(&runs, begun.elapsed().as_secs_f64()));
        return screen::print(&document_text(&document)?);
    }
    screen::print(&words::table(&document))
}

/// What scoring gave.
struct Scored {
    name: String,
    played: Vec<(Comparison, Best)>,
    /// What each problem cost.
    runs: Vec<RunFacts>,
    input: String,
}

/// The problems asked for, each with its best known.
fn chosen(args: &ScoreArgs, common: &Common) -> Result<Vec<(Problem, Best)>, CommandError> {
    if common.seed != 1 {
        let remedy = "Leave it out: the same random numbers for everybody is what makes scores comparable.";
        return Err(CommandError::argument("--seed", "the random numbers of the problems are fixed", remedy));
    }
    let known = problems();
    for (at, name) in args.problems.iter().enumerate() {
        if args.problems[..at].contains(name) {
            return Err(CommandError::argument(
                "--problem",
                format!("\"{name}\" is named twice"),
                "Name each problem once.",
            ));
        }
        if !known.iter().any(|problem| problem.name == name) {
            let remedy = did_you_mean(name, known.iter().map(|problem| problem.name));
            return Err(CommandError::argument("--problem", format!("there is no problem \"{name}\""), remedy));
        }
    }
    let wanted = |problem: &Problem| args.problems.is_empty() || args.problems.iter().any(|n| n == problem.name);
    Ok(known.into_iter().zip(best()).filter(|(problem, _)| wanted(problem)).collect())
}

/// A file of strategies, or a list of dates.
fn by_file(
    file: &Path,
    args: &ScoreArgs,
    chosen: &[(Problem, Best)],
    library: &Library,
    (meter, job): (&Meter, &Job<'_>),
) -> Result<Scored, CommandError> {
    let shown = file.display().to_string();
    let text = text_of(file, "Give a file of strategies, or a list of gate dates.")?;
    let is_list = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    if is_list && chosen.len() > 1 {
        let remedy = "Name it: --problem NAME.";
        return Err(CommandError::argument(&shown, "a list of dates fits one problem only", remedy));
    }
    let strategies =
        if is_list { format!("[strategy.{LIST}]\ndated = {{ file = {shown:?} }}\n") } else { text.clone() };
    let beside = |name: &str| -> Result<String, String> {
        if is_list {
            return Ok(text.clone());
        }
        scenarios::site_file::beside(file.parent().unwrap_or(Path::new(".")), name)
    };
    // All are read before any is played, so that a fault costs no waiting.
    let models: Vec<SiteModel> = chosen
        .iter()
        .map(|(problem, _)| with_strategies(*problem, &shown, &strategies, library, &beside))
        .collect::<Result<_, Faults>>()?;
    let mut name = String::new();
    let mut scored = Scored { name: name.clone(), played: Vec::new(), runs: Vec::new(), input: text.clone() };
    for (model, (_, best)) in models.iter().zip(chosen) {
        let which = match &args.strategy {
            Some(name) => strategy(model, "--strategy", name)?,
            None => 0,
        };
        name.clone_from(&model.strategies[which].name);
        let played = play(model, best.seed, which, job).map_err(stopped)?;
        if played.finished < played.plan.draws {
            return Err(stopped(CompareError::Stopped));
        }
        scored.take(model, played, best, meter);
    }
    Ok(Scored { name, ..scored })
}

/// A program asked day by day.
fn by_program(
    command: &str,
    (limits, family): (Limits, Arc<Family>),
    chosen: &[(Problem, Best)],
    library: &Library,
    (meter, job): (&Meter, &Job<'_>),
) -> Result<Scored, CommandError> {
    let blame = |halt: Halt, place: &str| match halt {
        Halt::Stopped => stopped(CompareError::Stopped),
        Halt::Fault(fault, remedy) => {
            CommandError::argument("--program", format!("{command:?}: {place}{fault}"), remedy)
        }
    };
    let asked_to_stop = || job.stopped();
    let mut keeper =
        ExternalStrategy::start(command, limits, family, &asked_to_stop).map_err(|halt| blame(halt, ""))?;
    let mut scored =
        Scored { name: command.to_owned(), played: Vec::new(), runs: Vec::new(), input: command.to_owned() };
    for (problem, best) in chosen {
        let model =
            with_strategies(*problem, "plain.toml", PLAIN, library, &|_| Err(String::new())).map_err(our_fault)?;
        let plots = model.base.plots.iter().map(|plot| plot.name.clone()).collect();
        keeper.on(plots, model.base.pests.iter().map(|pest| pest.name.clone()).collect());
        let played = play_given(&model, best.seed, &mut keeper, &mut |keeper: &mut ExternalStrategy<'_>| {
            keeper.new_year();
            keeper.halt().is_none() && !job.stopped()
        });
        if let Some(halt) = keeper.halt() {
            return Err(blame(halt.clone(), &format!("{}, ", problem.name)));
        }
        let played = played.map_err(stopped)?.ok_or_else(|| stopped(CompareError::Stopped))?;
        scored.take(&model, played, best, meter);
    }
    Ok(scored)
}

impl Scored {
    fn take(&mut self, model: &SiteModel, played: Comparison, best: &Best, meter: &Meter) {
        let runs = played.finished as u64 * (1 + BASELINES);
        self.runs.push(RunFacts::of(model, runs, 0.0, 0));
        self.played.push((played, best.clone()));
        meter.done(self.played.len());
    }
}

fn stopped(error: CompareError) -> CommandError {
    match error {
        CompareError::Stopped => {
            CommandError::Stopped("Stopped before all problems were played; nothing was written.".into())
        }
        error => CommandError::from(error),
    }
}

fn facts(runs: &[RunFacts], seconds: f64) -> RunFacts {
    RunFacts {
        seconds,
        threads: rayon::current_num_threads(),
        zone_days: runs.iter().map(|run| run.zone_days).sum(),
        plot_days: runs.iter().map(|run| run.plot_days).sum(),
    }
}

fn files(document: &ScoreDocument) -> Result<Files, CommandError> {
    let mut files = Files::default();
    files.add("score.txt", words::table(document));
    files.add("summary.json", document_text(document)?);
    Ok(files)
}

/// Parses a time, in seconds up to `most`.
fn seconds(most: u32) -> impl Fn(&str) -> Result<f64, String> + Clone + Send + Sync + 'static {
    move |text| match text.parse::<f64>() {
        Ok(seconds) if (0.01..=f64::from(most)).contains(&seconds) => Ok(seconds),
        _ => Err(format!("write seconds from 0.01 to {most}, for example 5")),
    }
}
