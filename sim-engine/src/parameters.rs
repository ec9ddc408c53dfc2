//! How a set of parameters is declared: once, with a unit, a sentence and a domain for each.
//!
//! Values are data of the library (value, low, high, unit, source, kind of
//! evidence); the engine only says which numbers it needs, in what unit, and what they may be.

use crate::domain::Domain;

/// One number a process needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Key in the library, for example `growth_rate`.
    pub name: &'static str,
    /// Unit the value is given in, for example `1/d`.
    pub unit: &'static str,
    /// What the number means, in a sentence.
    pub what: &'static str,
    /// What value, low and high of it may be.
    pub domain: Domain,
}

/// Declares a struct of numbers with units (plain `f64`, or one by lane), and access to them by position.
/// A domain stands after the sentence where it does not follow from the unit.
macro_rules! parameters {
    ($(#[$meta:meta])* $name:ident { $( $field:ident [$unit:literal] $what:literal $(, $domain:expr)?; )* }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name<F = f64> {
            $( #[doc = concat!($what, " Unit: `", $unit, "`.")] pub $field: F, )*
        }

        $crate::simd::soa::soa! { $name { $( $field, )* } }

        impl $name {
            /// The numbers of this set, in the order [`Self::from_values`] takes them.
            pub const FIELDS: &'static [$crate::parameters::Field] = &[
                $( $crate::parameters::Field {
                    name: stringify!($field),
                    unit: $unit,
                    what: $what,
                    domain: $crate::parameters::domain!([$unit] $($domain)?),
                }, )*
            ];

            /// Builds the set from values in the order of [`Self::FIELDS`]; `None` if their number differs.
            #[must_use]
            pub fn from_values(values: &[f64]) -> Option<Self> {
                if values.len() != Self::FIELDS.len() {
                    return None;
                }
                let mut next = values.iter().copied();
                Some(Self { $( $field: next.next()?, )* })
            }

            /// The numbers in the order of [`Self::FIELDS`].
            #[must_use]
            pub fn values(&self) -> Vec<f64> {
                vec![ $( self.$field, )* ]
            }

            /// Replaces the number at `position` of [`Self::FIELDS`]; a position beyond them changes nothing.
            pub fn set(&mut self, position: usize, value: f64) {
                let fields: [&mut f64; Self::FIELDS.len()] = [ $( &mut self.$field, )* ];
                if let Some(field) = fields.into_iter().nth(position) {
                    *field = value;
                }
            }
        }
    };
}
pub(crate) use parameters;

/// The domain a declaration states, or else that of its unit; a unit without one does not compile.
macro_rules! domain {
    ([$unit:literal]) => {
        match $crate::domain::Domain::of_unit($unit) {
            Some(domain) => domain,
            None => panic!("numbers of this unit have no domain in common: state it after the sentence"),
        }
    };
    ([$unit:literal] $domain:expr) => {{
        #[allow(unused_imports)]
        use $crate::domain::Domain::{Between, DayOfYear, Share, UpTo};
        $domain
    }};
}
pub(crate) use domain;

#[cfg(test)]
mod tests {
    parameters! {
        /// A set for the test.
        Pair { first ["mm"] "The first."; second ["-"] "The second.", Share; }
    }

    #[test]
    fn fields_keep_their_order_and_can_be_set() {
        let mut pair = Pair::from_values(&[1.0, 2.0]).unwrap();
        assert_eq!((pair.first, pair.second), (1.0, 2.0));
        assert_eq!(Pair::FIELDS[1].name, "second");
        assert_eq!(Pair::FIELDS.iter().map(|field| field.domain.high()).collect::<Vec<_>>(), [1_000.0, 1.0]);
        pair.set(1, 5.0);
        pair.set(7, 9.0);
        assert_eq!(pair.values(), vec![1.0, 5.0]);
        assert!(Pair::from_values(&[1.0]).is_none());
    }
}
