//! Whole numbers on the command line.

/// A parser for clap of whole numbers from `low` to `high`, which says in plain words what they are.
pub fn whole<N>(low: u64, high: u64) -> impl Fn(&str) -> Result<N, String> + Clone + Send + Sync
where
    N: TryFrom<u64> + Clone + Send + Sync + 'static,
{
    move |text| {
        let number = text.trim().parse::<u64>().ok().filter(|number| (low..=high).contains(number));
        let told = || {
            if high == u64::MAX {
                format!("write a whole number, {low} or more, for example {}", low.max(1))
            } else {
                format!("write a whole number from {low} to {high}")
            }
        };
        number.and_then(|number| N::try_from(number).ok()).ok_or_else(told)
    }
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn what_is_no_such_number_is_told_what_would_be() {
        let draws = whole::<u32>(1, 100_000);
        assert_eq!(draws(" 200 "), Ok(200));
        for text in ["abc", "-1", "0", "100001", "1.5", "", "99999999999999999999"] {
            assert_eq!(draws(text), Err("write a whole number from 1 to 100000".to_owned()));
        }
        assert_eq!(whole::<u64>(0, u64::MAX)("x"), Err("write a whole number, 0 or more, for example 1".to_owned()));
    }
}
