//! `[strategy.NAME]`: the keeper's way, and one to compare it with.

use super::values::{list, quoted};
use crate::ask::answers::{Answers, Gates, PlotAnswer};
use crate::ask::gates::YARD;

const BY_EYE: &str = "\n[strategy.by-eye]                  # in where it looks green, out where it looks bare\nby_eye = { enter_above = 0.88, leave_below = 0.75, longest_stay = \"14 days\", shortest_rest = \"28 days\" }\n";
const IN_TURN: &str = "\n[strategy.in-turn]                 # the plots in turn\nfixed_turn = { stay = \"14 days\" }\n";
const ALL_OPEN: &str = "\n[strategy.all-open]                # every gate that may be open\nall_open = {}\n";

/// The limit on cover where none is said.
const USUAL_COVER: f64 = 0.7;
/// Birds are taken out this much above the limit on cover, and let in this much above that; common practice, no source.
const OUT_ABOVE: f64 = 0.08;
const IN_ABOVE: f64 = 0.1;
/// Cover that is looked for at most, to go out and in.
const MOST_LEAVE: f64 = 0.88;
const MOST_ENTER: f64 = 0.95;

/// Its time of the year is short, so it does not wait for the end of a stay elsewhere.
const AT_ONCE: &str = "at_once = true                      # it ends what another rule has begun\n";

/// All strategies, the keeper's own first: the others are held against it.
pub fn strategies(answers: &Answers) -> String {
    let other = if answers.gates == Gates::ByEye { IN_TURN } else { BY_EYE };
    let own = match answers.gates {
        Gates::InTurn => IN_TURN.to_owned(),
        Gates::ByEye => BY_EYE.to_owned(),
        Gates::AllOpen => ALL_OPEN.to_owned(),
        Gates::BetweenCrops | Gates::Own => practice(answers),
    };
    format!("\n# 9. The strategies to compare: yours first, then another. Add your own, one block each.{own}{other}")
}

/// Rules, read from the top each morning. In the keeper's own way the birds are at home while it looks green, and in the
/// yard while all plots look worn.
fn practice(answers: &Answers) -> String {
    let own = answers.gates == Gates::Own;
    let (home, why) = if own { (YARD, "while all plots rest") } else { (answers.home.as_str(), "where none has") };
    let mut text = format!(
        "\n[strategy.our-practice]            # rules, read from the top each morning: the first that has an answer\nhome = {}   # {why}\n",
        quoted(home)
    );
    text += &between_crops(answers);
    if own {
        text += &winter(answers);
        text += &by_looks(answers);
    }
    text
}

fn between_crops(answers: &Answers) -> String {
    let beds = answers.names(PlotAnswer::has_crops);
    if beds.is_empty() {
        return String::new();
    }
    let (stay, most) = &answers.between;
    rule(&format!(
        "where = {}\nwhich = \"longest rested\"\nwhen = \"between crops\"\nstay = {}\nmost = {}\n{AT_ONCE}",
        list(&beds),
        quoted(stay),
        quoted(most)
    ))
}

fn winter(answers: &Answers) -> String {
    let (plots, looks) = (list(&answers.winter), looks(answers));
    match answers.winter.is_empty() {
        true => String::new(),
        false => {
            rule(&format!("where = {plots}\nbetween = [\"leaf fall\", \"bud break\"]\nlooks = {looks}\n{AT_ONCE}"))
        }
    }
}

/// Home, then the other plots without crops, while they look green.
fn by_looks(answers: &Answers) -> String {
    let looks = looks(answers);
    let home: Vec<String> = answers.names(|plot| plot.name == answers.home);
    let others = answers.names(|plot| !plot.has_crops() && plot.name != answers.home);
    let at_home = (!home.is_empty()).then(|| rule(&format!("where = {}\nlooks = {looks}\n", list(&home))));
    let elsewhere = (!others.is_empty()).then(|| {
        rule(&format!("where = {}\nlooks = {looks}\nstay = \"at most 14 days\"\nrest = \"28 days\"\n", list(&others)))
    });
    at_home.unwrap_or_default() + &elsewhere.unwrap_or_default()
}

/// Where birds go in by the look of the ground, and out: before it has lost what the limit asks for.
fn looks(answers: &Answers) -> String {
    let least = answers.limits.iter().find(|(key, _)| *key == "least_cover").and_then(|(_, cover)| cover.parse().ok());
    let least: f64 = least.unwrap_or(USUAL_COVER);
    let short = |share: f64| (share * 100.0).round() / 100.0;
    let leave = short((least + OUT_ABOVE).min(MOST_LEAVE));
    format!("{{ enter_above = {}, leave_below = {leave} }}", short((leave + IN_ABOVE).min(MOST_ENTER)))
}

fn rule(keys: &str) -> String {
    format!("[[strategy.our-practice.rule]]\n{keys}")
}
