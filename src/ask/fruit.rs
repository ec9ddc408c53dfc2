//! What becomes of fallen fruit, and whether birds are under fruit that is picked.

use super::answers::Answers;
use super::place::chosen;
use super::prompt::Prompt;
use super::wrong::{Wrong, is_none};

/// What becomes of fallen fruit, in words and as a site file has it.
const FALLEN: [(&str, &str); 4] = [
    ("it lies, nobody eats it", "left"),
    ("the birds have it", "to the birds"),
    ("we pick it up and cook it", "cooked"),
    ("we pick it up and eat it", "eaten"),
];

const NO: &str = "no";

pub fn fallen_prompt() -> Prompt {
    Prompt {
        number: 7,
        ask: "What becomes of fruit that falls?".to_owned(),
        example: String::new(),
        taken: Some("1".to_owned()),
        more: "Fruit from ground where birds were can carry germs of their droppings: it waits 120 days and is cooked, \
               never eaten raw, never pressed for raw juice.",
        list: FALLEN.iter().map(|(words, _)| (*words).to_owned()).collect(),
    }
}

pub fn take_fallen(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    let words = chosen(text, FALLEN.iter().map(|(words, _)| *words), "answer")?;
    answers.fallen = FALLEN.iter().find(|(known, _)| *known == words).map(|(_, word)| *word);
    Ok(())
}

pub fn above_prompt(answers: &Answers) -> Prompt {
    Prompt {
        number: 9,
        ask: format!(
            "Are the birds in {} while its fruit is picked from above them? No, or why they may be.",
            answers.home
        ),
        example: "it hangs above 1.2 m, is picked by hand and washed".to_owned(),
        taken: Some(NO.to_owned()),
        more: "No: the gate is shut for 90 days before the first picking and until the last, the usual rule (120 days for \
               what touches the soil), since fresh droppings can carry germs that make people ill. If they may be in \
               all the same, your reason stands on every page beside that caution. It holds for trees and vines, not for \
               bushes and canes, whose fruit hangs within reach. Local rules come first.",
        list: Vec::new(),
    }
}

pub fn take_above(answers: &mut Answers, text: &str) -> Result<(), Wrong> {
    if ["yes", "y"].iter().any(|yes| text.eq_ignore_ascii_case(yes)) {
        return Err(Wrong::new(
            "yes is not a reason",
            "Say why, for example: it hangs above 1.2 m, is picked by hand and washed.",
        ));
    }
    answers.above = (!is_none(text)).then(|| text.to_owned());
    Ok(())
}
