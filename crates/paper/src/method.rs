//! How a clean score is judged, in one page of plain words; docs/method.md has the formulas.

use language::say;
use proof::Verdict;
use scene::words;

use crate::Block;

/// Heading and paragraphs.
pub(crate) fn method() -> Vec<Block> {
    let mut blocks = vec![Block::Heading(2, say!("How this was judged").to_owned())];
    blocks.extend(paragraphs().map(|words| Block::Paragraph(words.to_owned())));
    blocks.push(Block::Paragraph(words::luck_meaning().to_owned()));
    let verdicts = Verdict::ALL.iter().map(|&it| {
        format!("{}: {}.", plot::capital(words::verdict(it)), words::verdict_meaning(it))
    });
    blocks.push(Block::List(verdicts.collect()));
    blocks.push(Block::Paragraph(words::dose_meaning()));
    blocks.push(Block::Heading(2, say!("What it does not say").to_owned()));
    blocks.extend(limits().map(|words| Block::Paragraph(words.to_owned())));
    blocks.push(Block::Note(words::proof_is_local().to_owned()));
    blocks
}

fn paragraphs() -> [&'static str; 5] {
    [
        say!(
            "A tree without symptoms may resist, or disease hardly reached it. Each disease is \
             judged by itself, and seasons and rounds are kept apart. A score that was not taken, \
             or could not be, is unknown and never counts as clean."
        ),
        say!(
            "How hard disease pressed on a tree is told by its neighbours: which of them took it, \
             how soon, how near they stand, and whether they could have taken it at all. A \
             resistant neighbour is no witness, and a tree is never its own. How far disease \
             travels on this plot, along the rows and across them, is learnt from the scores."
        ),
        say!(
            "From that follows how many infections a typical susceptible seedling would have taken \
             there, and with what chance it would have stayed clean. What is known of the cross is \
             weighed against it: the share of resistant seedlings is estimated from all its \
             seedlings, corrected for those that were merely missed."
        ),
        say!(
            "Susceptible checks tell how hard a season tested. A season in which they stayed clean \
             tests nothing; clean looks after a spray are no test either, unless the spray let the \
             disease through."
        ),
        say!(
            "All numbers are averages over many settings of the method, each weighed by how well \
             it explains the scores, and the interval beside a number shows how far they differ."
        ),
    ]
}

fn limits() -> [&'static str; 2] {
    [
        say!(
            "Tests in the laboratory or by inoculation settle what field scores cannot. Before a \
             tree is passed on as resistant, let it be tested on another site and through more \
             seasons."
        ),
        say!(
            "Moving trees, cuttings or grafting wood may be restricted where a quarantine disease \
             is about. Local rules and the plant-health authority come first; nothing here \
             replaces them."
        ),
    ]
}
