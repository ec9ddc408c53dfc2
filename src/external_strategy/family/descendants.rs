//! Our children, their children and so on, as Linux lists them in `/proc`.

use crate::screen::complain;
use rustix::process::{Pid, Signal, WaitOptions, getpid, kill_process, waitpid};
use std::time::{Duration, Instant};

/// How long processes may take to go once killed: what waits for a disk goes late.
const TO_GO: Duration = Duration::from_secs(5);
/// Between two looks at what is left.
const BETWEEN_LOOKS: Duration = Duration::from_millis(5);

/// A process of the list; a number that is used again begins later.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListedProcess {
    pid: Pid,
    parent: Option<Pid>,
    /// Ticks of the clock from the start of the system.
    begun: u64,
}

/// Children of ours.
pub fn children() -> Vec<ListedProcess> {
    let me = getpid();
    all().into_iter().filter(|process| process.parent == Some(me)).collect()
}

/// Kills all descendants of ours but these children and theirs, until none is left.
///
/// A look that finds none is proof: a child of ours, dead or alive, stays in the list until we wait for it, and a
/// process whose parents are all gone is a child of ours.
pub fn end_all_but(strangers: &[ListedProcess]) {
    let begun = Instant::now();
    loop {
        let left = descendants(&all(), getpid(), strangers);
        if left.is_empty() {
            return;
        }
        if begun.elapsed() > TO_GO {
            let numbers: Vec<String> = left.iter().map(|process| process.pid.to_string()).collect();
            complain(&format!("Started by the program and not to be ended: process {}.", numbers.join(", ")));
            return;
        }
        for process in left {
            // Both fail only if it is gone already, or is another user's: then it is among what is left.
            kill_process(process.pid, Signal::KILL).ok();
            waitpid(Some(process.pid), WaitOptions::NOHANG).ok();
        }
        std::thread::sleep(BETWEEN_LOOKS);
    }
}

/// Those of `all` that come from a process, but not by way of the strangers.
fn descendants(all: &[ListedProcess], from: Pid, strangers: &[ListedProcess]) -> Vec<ListedProcess> {
    let is_stranger =
        |process: &ListedProcess| strangers.iter().any(|s| (s.pid, s.begun) == (process.pid, process.begun));
    let (mut found, mut parents) = (Vec::new(), vec![from]);
    while let Some(parent) = parents.pop() {
        // The list is no picture of one moment: a number used again meanwhile could make us our own descendant.
        let others = all.iter().filter(|process| process.pid != from);
        for child in others.filter(|process| process.parent == Some(parent) && !is_stranger(process)) {
            parents.push(child.pid);
            found.push(child.clone());
        }
    }
    found
}

/// All processes; none where `/proc` is not to be read.
fn all() -> Vec<ListedProcess> {
    let Ok(entries) = std::fs::read_dir("/proc") else { return Vec::new() };
    let numbers = entries.filter_map(|entry| entry.ok()?.file_name().to_str()?.parse::<i32>().ok());
    // One that is gone meanwhile has no file.
    numbers.filter_map(|number| read(number, &std::fs::read(format!("/proc/{number}/stat")).ok()?)).collect()
}

/// A process from its line in `/proc/NUMBER/stat`; its name there may hold anything but ends at the last `)`.
fn read(number: i32, stat: &[u8]) -> Option<ListedProcess> {
    let name_ends = stat.iter().rposition(|&letter| letter == b')')?;
    let after: Vec<&str> = std::str::from_utf8(&stat[name_ends + 1..]).ok()?.split_whitespace().collect();
    Some(ListedProcess {
        pid: Pid::from_raw(number)?,
        parent: Pid::from_raw(after.get(1)?.parse().ok()?),
        begun: after.get(19)?.parse().ok()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn process(pid: i32, parent: i32) -> ListedProcess {
        ListedProcess { pid: Pid::from_raw(pid).unwrap(), parent: Pid::from_raw(parent), begun: 7 }
    }

    #[test]
    fn a_line_is_read_whatever_the_name() {
        let rest = "0 -1 4194304 140 0 0 0 0 0 0 0 20 0 1 0 9944 3133440 412 18446744073709551615";
        let line = format!("31 (a) S 1 (\u{e9}) S 12 31 31 {rest}");
        let read = |line: &[u8]| super::read(31, line);
        assert_eq!(read(line.as_bytes()), Some(ListedProcess { begun: 9944, ..process(31, 12) }));
        assert_eq!(read(&[b"31 (\xff) Z 0 31 31 ", rest.as_bytes()].concat()).unwrap().parent, None);
        assert_eq!(read(b"31 (sh) S"), None);
    }

    #[test]
    fn we_are_in_the_list() {
        assert!(all().iter().any(|process| process.pid == getpid() && process.parent.is_some()));
    }

    #[test]
    fn those_of_strangers_are_left_alone() {
        let all = [process(2, 1), process(3, 2), process(4, 3), process(5, 1), process(6, 5), process(8, 7)];
        let found = |strangers: &[ListedProcess]| -> Vec<i32> {
            let found = descendants(&all, Pid::from_raw(1).unwrap(), strangers);
            let mut numbers: Vec<i32> = found.iter().map(|process| process.pid.as_raw_nonzero().get()).collect();
            numbers.sort_unstable();
            numbers
        };
        assert_eq!(found(&[]), [2, 3, 4, 5, 6]);
        assert_eq!(found(&[process(5, 1)]), [2, 3, 4]);
        assert_eq!(found(&[ListedProcess { begun: 6, ..process(5, 1) }]), [2, 3, 4, 5, 6]);
    }
}
