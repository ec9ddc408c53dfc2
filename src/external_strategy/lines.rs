//! The lines: a day as a keeper sees it, and an answer.

use scenarios::open_hours;
use serde::{Deserialize, Serialize};
use sim_engine::gates::{Observation, OpenHours, PlotObservation};

/// Days since a crop above which there was none: a run is far shorter.
const NEVER_D: f64 = 36_500.0;

/// A morning.
#[derive(Serialize)]
struct Day<'a> {
    date: String,
    first: bool,
    birds: f64,
    yesterday_high_c: f64,
    plots: Vec<PlotLine<'a>>,
    pests: Vec<PestLine<'a>>,
}

/// A plot as seen over the gate.
#[derive(Serialize)]
struct PlotLine<'a> {
    name: &'a str,
    area_m2: f64,
    cover: f64,
    open: bool,
    days_open: f64,
    days_at_rest: f64,
    days_since_crop: Option<f64>,
    shade: f64,
    wet: bool,
    shut: Option<String>,
}

#[derive(Serialize)]
struct PestLine<'a> {
    name: &'a str,
    degree_days: Option<f64>,
}

/// The line of a day, with its line end.
pub fn day_of(observation: &Observation, first: bool, plots: &[String], pests: &[String]) -> String {
    let day = Day {
        date: observation.date.to_string(),
        first,
        birds: observation.birds,
        yesterday_high_c: observation.yesterday_tmax_c,
        plots: observation.plots.iter().zip(plots).map(|(seen, name)| plot(seen, name)).collect(),
        pests: observation
            .pest_degree_days
            .iter()
            .zip(pests)
            .map(|(&degree_days, name)| PestLine { name, degree_days })
            .collect(),
    };
    // Plain records of finite numbers always have a line.
    serde_json::to_string(&day).unwrap_or_default() + "\n"
}

fn plot<'a>(seen: &PlotObservation, name: &'a str) -> PlotLine<'a> {
    PlotLine {
        name,
        area_m2: seen.area_m2,
        cover: seen.cover,
        open: seen.open,
        days_open: seen.days_open,
        days_at_rest: seen.days_at_rest,
        days_since_crop: (seen.days_since_crop < NEVER_D).then_some(seen.days_since_crop),
        shade: seen.shade,
        wet: seen.wet,
        shut: seen.shut.map(|veto| veto.to_string()),
    }
}

/// What the program wrote.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "an answer such as {\"date\": \"2027-03-01\", \"open\": [\"a\"]}")]
struct AnswerLine {
    date: String,
    open: Vec<String>,
    hours: Option<String>,
    birds: Option<f64>,
}

/// An answer understood.
#[derive(Debug, PartialEq)]
pub struct ProgramAnswer {
    /// Plots to open.
    pub open: Vec<usize>,
    /// From when to when; `None`: dawn to dusk.
    pub hours: Option<OpenHours>,
    /// Most birds; `None`: all.
    pub birds: Option<f64>,
}

/// Reads the answer to `date`.
///
/// # Errors
/// In words, what is wrong with it.
pub fn read(line: &str, date: &str, plots: &[String]) -> Result<ProgramAnswer, String> {
    let shown: String = line.chars().take(60).collect();
    let wrong = |why: &str| format!("it answered {shown:?}: {why}");
    let written: AnswerLine = serde_json::from_str(line).map_err(|error| wrong(&error.to_string()))?;
    if written.date != date {
        return Err(wrong("that is not the day it was asked about"));
    }
    let place = |name: &String| {
        plots.iter().position(|plot| plot == name).ok_or_else(|| wrong(&format!("there is no plot {name:?}")))
    };
    let open: Vec<usize> = written.open.iter().map(place).collect::<Result<_, _>>()?;
    if (1..open.len()).any(|at| open[..at].contains(&open[at])) {
        return Err(wrong("a plot is named twice"));
    }
    let hours = match &written.hours {
        Some(text) => Some(open_hours::parse(text).map_err(|error| wrong(&format!("hours: {error}")))?),
        None => None,
    };
    if written.birds.is_some_and(|birds| birds < 0.0) {
        return Err(wrong("birds must be 0 or more"));
    }
    Ok(ProgramAnswer { open, hours, birds: written.birds })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_day_shows_what_a_keeper_sees_and_no_more() {
        let seen = PlotObservation { cover: 0.5, area_m2: 40.0, days_since_crop: 1e9, ..PlotObservation::default() };
        let observation = Observation {
            date: date(2027, 3, 1),
            plots: &[seen],
            pest_degree_days: &[None],
            yesterday_tmax_c: 9.5,
            frozen: false,
            snow: false,
            birds: 6.0,
        };
        let line = day_of(&observation, true, &["a".to_owned()], &["plum sawfly".to_owned()]);
        let want = r#"{"date":"2027-03-01","first":true,"birds":6.0,"yesterday_high_c":9.5,"plots":[{"name":"a","area_m2":40.0,"cover":0.5,"open":false,"days_open":0.0,"days_at_rest":0.0,"days_since_crop":null,"shade":0.0,"wet":false,"shut":null}],"pests":[{"name":"plum sawfly","degree_days":null}]}"#;
        assert_eq!(line, format!("{want}\n"));
    }

    #[test]
    fn answers_are_read_or_refused_with_a_reason() {
        let plots = ["a".to_owned(), "b".to_owned()];
        let read = |line: &str| super::read(line, "2027-03-01", &plots);
        let some = read(r#"{"date":"2027-03-01","open":["b"],"hours":"last 5 hours"}"#).unwrap();
        assert_eq!(some, ProgramAnswer { open: vec![1], hours: Some(OpenHours::last(5.0)), birds: None });
        assert_eq!(read(r#"{"date":"2027-03-01","open":[]}"#).unwrap().open, Vec::<usize>::new());
        for (line, why) in [
            ("moo", "expected"),
            (r#"{"date":"2027-03-01"}"#, "open"),
            (r#"{"date":"2027-03-02","open":[]}"#, "not the day"),
            (r#"{"date":"2027-03-01","open":["c"]}"#, "no plot \"c\""),
            (r#"{"date":"2027-03-01","open":["a","a"]}"#, "twice"),
            (r#"{"date":"2027-03-01","open":["a"],"hours":5}"#, "string"),
            (r#"{"date":"2027-03-01","open":["a"],"hours":"5"}"#, "last 5 hours"),
            (r#"{"date":"2027-03-01","open":["a"],"birds":-1}"#, "birds"),
            (r#"{"date":"2027-03-01","open":["a"],"gate":1}"#, "gate"),
        ] {
            let said = read(line).unwrap_err();
            assert!(said.contains(why), "{said}");
        }
    }
}
