//! Rewrites a source file so that each of its mutants can be chosen at run time.
//!
//! What a mutant changes becomes `if mutant_switch::on(7) { as changed } else { as it was }`. At
//! most one mutant is on, so what is "as changed" holds no other. A new operator is put into the
//! text of the whole unbroken chain of operators around it, which is read again: `a - b * c` with
//! `+` for `*` is `(a - b) + c`, as it is for cargo-mutants.
//!
//! Nothing can be chosen at run time where the compiler computes (constants, lengths of arrays).
//! Mutants there are not placed, and must be built by themselves.

use crate::sample::{Genre, Mutant, Place};
use anyhow::{Context, Result};
use proc_macro2::Span;
use std::collections::{BTreeMap, BTreeSet};
use syn::spanned::Spanned;
use syn::visit_mut::{self, VisitMut};
use syn::{Arm, BinOp, Block, Expr, ExprBinary, ExprStruct, ReturnType, Signature, Stmt, Type, parse_quote};

/// A file with its mutants in it.
pub struct Switched {
    /// New text.
    pub text: String,
    /// Numbers of the mutants that are in it.
    pub placed: BTreeSet<u32>,
}

/// Puts mutants, each with the number that chooses it, into a file.
///
/// # Errors
/// A file that is no Rust, or a mutant that leaves none.
pub fn switched(text: &str, mutants: &[(u32, &Mutant)]) -> Result<Switched> {
    let mut file = syn::parse_file(text)?;
    let mut switcher = Switcher { text, at: BTreeMap::new(), constant: 0, placed: BTreeSet::new(), fault: None };
    for (number, mutant) in mutants {
        switcher.at.entry(mutant.span.start).or_default().push((*number, mutant));
    }
    switcher.visit_file_mut(&mut file);
    match switcher.fault {
        Some(fault) => Err(fault),
        None => Ok(Switched { text: prettyplease::unparse(&file), placed: switcher.placed }),
    }
}

struct Switcher<'a> {
    text: &'a str,
    at: BTreeMap<Place, Vec<(u32, &'a Mutant)>>,
    /// How many constants we are inside of.
    constant: usize,
    placed: BTreeSet<u32>,
    fault: Option<anyhow::Error>,
}

fn place(span: Span) -> Place {
    let start = span.start();
    Place { line: start.line, column: start.column + 1 }
}

fn either(number: u32, changed: Expr, plain: Expr) -> Expr {
    parse_quote!((if ::mutant_switch::on(#number) { #changed } else { #plain }))
}

/// A changed form of something, and the number that chooses it.
type Change = (u32, Expr);

impl<'a> Switcher<'a> {
    /// Mutants of a genre that begin here, unless the compiler computes here.
    fn here(&mut self, span: Span, genre: Genre) -> Vec<(u32, &'a Mutant)> {
        if self.constant > 0 {
            return Vec::new();
        }
        let of_genre = |(_, mutant): &&(u32, &Mutant)| mutant.genre == genre;
        let found: Vec<_> = self.at.get(&place(span)).into_iter().flatten().filter(of_genre).copied().collect();
        self.placed.extend(found.iter().map(|(number, _)| number));
        found
    }

    fn read(&mut self, text: &str) -> Option<Expr> {
        let read = syn::parse_str(text).with_context(|| format!("as changed: {text}"));
        read.map_err(|fault| self.fault = Some(fault)).ok()
    }

    /// Recurses with nothing placed.
    fn constant(&mut self, recurse: impl FnOnce(&mut Self)) {
        self.constant += 1;
        recurse(self);
        self.constant -= 1;
    }

    fn wrap(&mut self, node: &mut Expr, changes: Vec<Change>) {
        for (number, changed) in changes {
            let plain = std::mem::replace(node, Expr::PLACEHOLDER);
            *node = either(number, changed, plain);
        }
    }

    /// Changes of every operator of an unbroken chain, whose text begins at byte `start`.
    fn of_chain(&mut self, chain: &ExprBinary, whole: &std::ops::Range<usize>, changes: &mut Vec<Change>) {
        let operator = chain.op.span().byte_range();
        for (number, mutant) in self.here(chain.op.span(), Genre::BinaryOperator) {
            let (before, after) = (&self.text[whole.start..operator.start], &self.text[operator.end..whole.end]);
            if let Some(changed) = self.read(&format!("{before}{}{after}", mutant.replacement)) {
                changes.push((number, changed));
            }
        }
        for side in [&*chain.left, &*chain.right] {
            if let Expr::Binary(more) = side {
                self.of_chain(more, whole, changes);
            }
        }
    }

    /// The rest of a chain: what stands between its operators.
    fn operands(&mut self, chain: &mut ExprBinary) {
        for side in [&mut *chain.left, &mut *chain.right] {
            match side {
                Expr::Binary(more) => self.operands(more),
                other => self.visit_expr_mut(other),
            }
        }
    }

    /// A chain of `&&` around a `let` cannot stand in a block; its parts can.
    fn parts_around_let(&mut self, chain: &mut ExprBinary) {
        for side in [&mut *chain.left, &mut *chain.right] {
            match side {
                Expr::Binary(more) if matches!(more.op, BinOp::And(_)) && holds_let(more) => {
                    self.parts_around_let(more);
                }
                other => self.visit_expr_mut(other),
            }
        }
    }

    fn chain(&mut self, node: &mut Expr) {
        let Expr::Binary(chain) = node else { return };
        if holds_let(chain) {
            return self.parts_around_let(chain);
        }
        let whole = chain.span().byte_range();
        let mut changes = Vec::new();
        self.of_chain(&chain.clone(), &whole, &mut changes);
        self.operands(chain);
        self.wrap(node, changes);
    }

    fn field_goes(&mut self, of: &ExprStruct) -> Vec<Change> {
        let mut changes = Vec::new();
        for (i, field) in of.fields.iter().enumerate() {
            for (number, _) in self.here(field.span(), Genre::StructField) {
                let mut changed = of.clone();
                // With their commas: the last before the base needs one.
                let kept = |(j, pair)| (j != i).then_some(pair);
                changed.fields = of.fields.clone().into_pairs().enumerate().filter_map(kept).collect();
                changes.push((number, Expr::Struct(changed)));
            }
        }
        changes
    }

    /// A function's body: first what stands in it, then the values that may be returned instead.
    fn body(&mut self, of: &Signature, block: &mut Block) {
        if of.constness.is_some() {
            return self.constant(|inner| inner.visit_block_mut(block));
        }
        let Some(first) = block.stmts.first().map(Spanned::span) else { return };
        // A hidden type (`impl Iterator`) is one type: another value cannot stand beside the body.
        let hidden = matches!(&of.output, ReturnType::Type(_, output) if matches!(**output, Type::ImplTrait(_)));
        let values = if hidden { Vec::new() } else { self.here(first, Genre::FnValue) };
        self.visit_block_mut(block);
        for (number, mutant) in values {
            if let Some(value) = self.read(&mutant.replacement) {
                let returns: Stmt = parse_quote!(if ::mutant_switch::on(#number) { return #value; });
                block.stmts.insert(0, returns);
            }
        }
    }
}

fn holds_let(chain: &ExprBinary) -> bool {
    [&*chain.left, &*chain.right].into_iter().any(|side| match side {
        Expr::Let(_) => true,
        Expr::Binary(more) => holds_let(more),
        _ => false,
    })
}

impl VisitMut for Switcher<'_> {
    fn visit_expr_mut(&mut self, node: &mut Expr) {
        let changes: Vec<Change> = match node {
            Expr::Binary(_) => return self.chain(node),
            Expr::Unary(of) => {
                let goes = self.here(of.op.span(), Genre::UnaryOperator);
                goes.into_iter().map(|(number, _)| (number, (*of.expr).clone())).collect()
            }
            Expr::Struct(of) => self.field_goes(&of.clone()),
            _ => Vec::new(),
        };
        visit_mut::visit_expr_mut(self, node);
        self.wrap(node, changes);
    }

    fn visit_arm_mut(&mut self, arm: &mut Arm) {
        let goes = self.here(arm.pat.span(), Genre::MatchArm);
        let guards = match &arm.guard {
            Some((_, guard)) => self.here(guard.span(), Genre::MatchArmGuard),
            None => Vec::new(),
        };
        visit_mut::visit_arm_mut(self, arm);
        for (number, mutant) in guards {
            let (Some(changed), Some((_, guard))) = (self.read(&mutant.replacement), &mut arm.guard) else { return };
            self.wrap(guard, vec![(number, changed)]);
        }
        for (number, _) in goes {
            let stays = match arm.guard.take() {
                Some((_, guard)) => parse_quote!(!::mutant_switch::on(#number) && (#guard)),
                None => parse_quote!(!::mutant_switch::on(#number)),
            };
            arm.guard = Some((Default::default(), Box::new(stays)));
        }
    }

    fn visit_item_fn_mut(&mut self, of: &mut syn::ItemFn) {
        self.body(&of.sig, &mut of.block);
    }
    fn visit_impl_item_fn_mut(&mut self, of: &mut syn::ImplItemFn) {
        self.body(&of.sig, &mut of.block);
    }
    fn visit_trait_item_fn_mut(&mut self, of: &mut syn::TraitItemFn) {
        if let Some(block) = &mut of.default {
            self.body(&of.sig, block);
        }
    }

    fn visit_item_const_mut(&mut self, of: &mut syn::ItemConst) {
        self.constant(|inner| visit_mut::visit_item_const_mut(inner, of));
    }
    fn visit_item_static_mut(&mut self, of: &mut syn::ItemStatic) {
        self.constant(|inner| visit_mut::visit_item_static_mut(inner, of));
    }
    fn visit_impl_item_const_mut(&mut self, of: &mut syn::ImplItemConst) {
        self.constant(|inner| visit_mut::visit_impl_item_const_mut(inner, of));
    }
    fn visit_trait_item_const_mut(&mut self, of: &mut syn::TraitItemConst) {
        self.constant(|inner| visit_mut::visit_trait_item_const_mut(inner, of));
    }
    fn visit_expr_const_mut(&mut self, of: &mut syn::ExprConst) {
        self.constant(|inner| visit_mut::visit_expr_const_mut(inner, of));
    }
    fn visit_type_array_mut(&mut self, of: &mut syn::TypeArray) {
        self.constant(|inner| visit_mut::visit_type_array_mut(inner, of));
    }
    fn visit_variant_mut(&mut self, of: &mut syn::Variant) {
        self.constant(|inner| visit_mut::visit_variant_mut(inner, of));
    }
    fn visit_generic_argument_mut(&mut self, of: &mut syn::GenericArgument) {
        self.constant(|inner| visit_mut::visit_generic_argument_mut(inner, of));
    }
    fn visit_expr_repeat_mut(&mut self, of: &mut syn::ExprRepeat) {
        self.visit_expr_mut(&mut of.expr);
        self.constant(|inner| inner.visit_expr_mut(&mut of.len));
    }
    fn visit_pat_mut(&mut self, of: &mut syn::Pat) {
        self.constant(|inner| visit_mut::visit_pat_mut(inner, of));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::Span;

    /// A mutant whose text begins at the first `|` of the text, which is taken out.
    fn try_out(marked: &str, genre: Genre, replacement: &str) -> (String, bool) {
        let at = marked.find('|').unwrap();
        let before = &marked[..at];
        let start = Place {
            line: before.lines().count(),
            column: before.len() - before.rfind('\n').map_or(0, |newline| newline + 1) + 1,
        };
        let mutant = Mutant {
            name: String::new(),
            package: String::new(),
            file: String::new(),
            genre,
            replacement: replacement.into(),
            span: Span { start, end: start },
        };
        let switched = switched(&marked.replacen('|', "", 1), &[(7, &mutant)]).unwrap();
        let words: Vec<&str> = switched.text.split_whitespace().collect();
        (words.join(" "), !switched.placed.is_empty())
    }

    #[test]
    fn an_operator_is_put_into_the_text_around_it() {
        let (text, placed) = try_out("fn f(a: f64) -> f64 { 1.0 - a |* 2.0 }", Genre::BinaryOperator, "+");
        assert!(placed);
        assert_eq!(
            text,
            "fn f(a: f64) -> f64 { (if ::mutant_switch::on(7u32) { 1.0 - a + 2.0 } else { 1.0 - a * 2.0 }) }"
        );
    }

    #[test]
    fn an_assignment_is_one_operator() {
        let (text, _) = try_out("fn f(a: &mut f64) { *a |+= 2.0; }", Genre::BinaryOperator, "-=");
        assert!(text.contains("{ *a -= 2.0 } else { *a += 2.0 }"), "{text}");
    }

    #[test]
    fn a_sign_goes() {
        let (text, _) = try_out("fn f(a: f64) -> f64 { (|-a).exp() }", Genre::UnaryOperator, "");
        assert!(text.contains("{ a } else { -a }"), "{text}");
    }

    #[test]
    fn a_body_returns_another_value() {
        let (text, _) = try_out("fn f(a: f64) -> f64 {\n    |let b = a;\n    b\n}", Genre::FnValue, "-1.0");
        assert!(text.contains("{ if ::mutant_switch::on(7u32) { return -1.0; } let b = a;"), "{text}");
    }

    #[test]
    fn an_arm_goes_by_its_guard() {
        let text = "fn f(a: u8) -> u8 { match a { |1 if a > 0 => 2, _ => 3 } }";
        assert!(try_out(text, Genre::MatchArm, "").0.contains("1 if !::mutant_switch::on(7u32) && (a > 0) => 2"));
        let text = "fn f(a: u8) -> u8 { match a { 1 if |a > 0 => 2, _ => 3 } }";
        let (text, _) = try_out(text, Genre::MatchArmGuard, "true");
        assert!(text.contains("1 if (if ::mutant_switch::on(7u32) { true } else { a > 0 }) => 2"), "{text}");
    }

    #[test]
    fn a_field_goes_where_the_base_fills_it() {
        let (text, _) = try_out("fn f(a: A) -> A { A { |b: 1, c: 2, ..a } }", Genre::StructField, "");
        assert!(text.contains("{ A { c: 2, ..a } } else { A { b: 1, c: 2, ..a } }"), "{text}");
    }

    #[test]
    fn nothing_is_placed_where_the_compiler_computes() {
        for text in [
            "const A: f64 = 1.0 |- 2.0;",
            "const fn f(a: u8) -> u8 { a |- 1 }",
            "fn f() -> [u8; 3 |- 1] { [0; 2] }",
            "fn f(a: Option<u8>) -> bool { if let Some(b) = a |&& b > 1 { true } else { false } }",
        ] {
            assert!(!try_out(text, Genre::BinaryOperator, "+").1, "{text}");
        }
    }

    #[test]
    fn what_stands_beside_a_let_is_placed() {
        let text = "fn f(a: Option<u8>) -> bool { if let Some(b) = a && b |> 1 { true } else { false } }";
        let (text, placed) = try_out(text, Genre::BinaryOperator, "<");
        assert!(placed && text.contains("let Some(b) = a && (if ::mutant_switch::on(7u32) { b < 1 } else { b > 1 })"));
    }
}
