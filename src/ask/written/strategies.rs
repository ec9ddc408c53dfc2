//! `[strategy.NAME]`: the keeper's way, and one to compare it with.

use super::values::{list, quoted};
use crate::ask::answers::{Answers, Gates, PlotAnswer};

const BY_EYE: &str = "\n[strategy.by-eye]                  # in where it looks green, out where it looks bare\nby_eye = { enter_above = 0.88, leave_below = 0.75, longest_stay = \"14 days\", shortest_rest = \"28 days\" }\n";
const IN_TURN: &str = "\n[strategy.in-turn]                 # the plots in turn\nfixed_turn = { stay = \"14 days\" }\n";
const ALL_OPEN: &str = "\n[strategy.all-open]                # every gate that may be open\nall_open = {}\n";

/// Where birds go in by the look of the ground, and out.
const LOOKS: &str = "{ enter_above = 0.85, leave_below = 0.7 }";

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

/// Rules, read from the top each morning.
fn practice(answers: &Answers) -> String {
    let own = answers.gates == Gates::Own;
    let mut text = format!(
        "\n[strategy.our-practice]            # rules, read from the top each morning: the first that has an answer\nhome = {}   # where none has\n",
        quoted(&answers.home)
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
        "where = {}\nwhich = \"longest rested\"\nwhen = \"between crops\"\nstay = {}\nmost = {}\n",
        list(&beds),
        quoted(stay),
        quoted(most)
    ))
}

fn winter(answers: &Answers) -> String {
    match answers.winter.is_empty() {
        true => String::new(),
        false => rule(&format!("where = {}\nbetween = [\"leaf fall\", \"bud break\"]\n", list(&answers.winter))),
    }
}

/// Home, then the other plots without crops, while they look green.
fn by_looks(answers: &Answers) -> String {
    let mut plots = answers.names(|plot| !plot.has_crops() || plot.name == answers.home);
    plots.sort_by_key(|name| *name != answers.home);
    match plots.is_empty() {
        true => String::new(),
        false => rule(&format!(
            "where = {}\nlooks = {LOOKS}\nstay = \"at most 14 days\"\nrest = \"28 days\"\n",
            list(&plots)
        )),
    }
}

fn rule(keys: &str) -> String {
    format!("[[strategy.our-practice.rule]]\n{keys}")
}
