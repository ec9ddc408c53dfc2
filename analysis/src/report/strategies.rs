//! The verdict, and every strategy in a line: what it does, what it costs and saves, its aim, its limits.

use super::compared::CompareView;
use super::describe::{costs_and_buys, what_it_does};
use super::page::Part;
use crate::compare::Comparison;
use crate::experiment::ArmId;
use crate::wording::{birds_or_none, figure, held, interval, limits_shut_in, list, typeset, work};
use maud::{Markup, PreEscaped, html};
use sim_engine::measures::Measure;

pub(super) fn part(view: &CompareView<'_>) -> Part {
    let c = view.comparison;
    let mut order: Vec<usize> = (0..c.names.len()).collect();
    order.sort_by(|&a, &b| {
        let key = |s: usize| (c.verdict.standings[s].holds, c.aim[s].mean);
        let (a, b) = (key(a), key(b));
        b.0.cmp(&a.0).then(b.1.total_cmp(&a.1))
    });
    let body = html! {
            p.lead { (typeset(&c.words(view.units))) }
            p {
                "Costs and gains are means over the possible years, compared with the same years with the birds shut in and the usual weeding, mowing and clearing."
                (beaten_in_words(c))
            }
            table.stack.strategies {
                thead { tr { th { "Strategy" } th.number { (aim_head(c)) (PreEscaped("<br/>")) small { "(95 % interval)" } } th { "Every limit" } } }
                tbody {
                    @for s in order { (row(view, s)) }
                    (baseline(c, "Birds shut in", "The same birds and heap, no gate opened; the same work by hand. The others are compared with it.", "0"))
                    (baseline(c, "Nothing", &nothing(c), "–"))
                }
            }
            @if let Some(words) = limits_shut_in(view.model, c, view.units) { p { (typeset(&words)) } }
            p { (typeset(&work(view.model, c, view.units))) }
            @if let Some(words) = birds_or_none(c, view.units) { p { (typeset(&words)) } }
    };
    Part::new("strategies", "All strategies compared", body)
}

fn row(view: &CompareView<'_>, s: usize) -> Markup {
    let c = view.comparison;
    let standing = &c.verdict.standings[s];
    let best = c.verdict.best.as_ref() == Some(&c.names[s]);
    html! {
        tr.best[best] {
            td.what {
                strong { (c.names[s]) } " " (tags(c, s))
                p { (typeset(&what_it_does(view.model, c.plan.which[s], view.units))) }
                p { (typeset(&costs_and_buys(c, s, view.units))) }
            }
            td.number data-head=(aim_head(c)) { (interval(c.aim[s], 1)) }
            td data-head="Every limit" {
                span { @match standing.weakest() {
                    None => "none set",
                    Some(limit) => {
                        (if standing.holds { "holds" } else { "fails" })
                        small.under { "weakest: " (held(limit.held, limit.draws)) }
                    },
                } }
            }
        }
    }
}

fn aim_head(c: &Comparison) -> String {
    format!("Aim, {}", c.aim_unit.a_year())
}

fn tags(c: &Comparison, s: usize) -> Markup {
    let verdict = &c.verdict;
    let is = |name: &Option<String>| name.as_ref() == Some(&c.names[s]);
    html! {
        @if is(&verdict.best) { span.tag { "best" } " " }
        @else if is(&verdict.leader) { span.tag { "ahead, but close" } " " }
        @if is(&verdict.nearest) { span.tag { "comes nearest" } " " }
        @if s == c.plan.against { span.tag { "compared with" } " " }
        @if c.undominated[s] && few_unbeaten(c) { span.tag { "none better in every way" } }
    }
}

/// Whether the tag tells something: most strategies do not bear it.
fn few_unbeaten(c: &Comparison) -> bool {
    2 * c.undominated.iter().filter(|&&unbeaten| unbeaten).count() <= c.names.len()
}

/// Where most are unbeaten, the others are named instead.
fn beaten_in_words(c: &Comparison) -> String {
    let beaten: Vec<&String> =
        c.names.iter().zip(&c.undominated).filter(|(_, unbeaten)| !**unbeaten).map(|(name, _)| name).collect();
    match beaten.as_slice() {
        _ if few_unbeaten(c) || c.names.len() == 1 => String::new(),
        [] => " None of them is worse than another in every way.".to_owned(),
        [one] => format!(" Only {one} is worse than another in every way."),
        _ => format!(" Only {} are worse than another in every way.", list(&beaten)),
    }
}

fn baseline(c: &Comparison, name: &str, words: &str, aim: &str) -> Markup {
    html! {
        tr.baseline {
            td.what { strong { (name) } p { (typeset(words)) } }
            td.number data-head=(aim_head(c)) { (aim) }
            td data-head="Every limit" { "–" }
        }
    }
}

/// Care against no care, both without birds.
fn nothing(c: &Comparison) -> String {
    let weeds = |run| c.mean(run, Measure::WeedCover).unwrap_or(f64::NAN);
    let [left, cared_for] = [ArmId::Nothing, ArmId::NoBirds].map(weeds);
    if left == 0.0 && cared_for == 0.0 {
        return "No birds and no care either.".to_owned();
    }
    format!(
        "No birds and no care either. Weeds cover {} % of the ground, against {} % with the usual care.",
        figure(100.0 * left, 1),
        figure(100.0 * cared_for, 1)
    )
}
