//! A seeded simulator of epidemics in trial rows, made so that the truth behind every score is
//! known.
//!
//! # Glossary
//! - **recipe**: everything that a made-up plot is made from, as plain data. **kind**: a named
//!   recipe whose loose ends (reach, patchiness …) are drawn from the seed.
//! - **force**: infections per day that a typical susceptible tree is expected to take at a place.
//! - **dose**: force summed over the time in which scores would have shown it.
//! - **frailty**: by how much a susceptible genotype is hit harder (above 1) or less hard than the
//!   typical one.
//! - **susceptibility**: what finally multiplies the dose: frailty, times the leak of a resistant
//!   genotype.
//! - **part**: one trait of a disease, with the time of the season in which it can be infected.
//! - **look**: one score that was really taken.
//! - **luck**: the probability that a clean tree is susceptible; the **oracle** is the luck that
//!   one would give who knew every dose.
//!
//! Infection is a Poisson count within the season (Gregory 1948, the multiple-infection
//! transformation): a tree whose summed force is `m` is still clean with probability
//! `exp(-susceptibility × m)`, and each season starts anew. Truth advances day by day in steps
//! much finer than the rounds, with weather in bursts, a latent time and inoculum that grows with
//! severity, so that a model fitted to rounds never meets its own generator.
//!
//! Days of a season are counted from 1 April of its year (day 0); negative days lie before it.
//!
//! The same recipe and seed give the same plot on every target: random numbers come from ChaCha,
//! transcendental functions from `libm`.

pub mod demo;
mod draw;
mod genes;
mod kernel;
mod kinds;
mod make;
pub mod measure;
pub mod oracle;
mod planting;
mod primary;
mod recipe;
pub mod scales;
mod scoring;
mod spread;
mod truth;
mod weather;

pub use kernel::Kernel;
pub use kinds::Kind;
pub use make::{make, make_with};
pub use planting::Graft;
pub use primary::{Pattern, Primary};
pub use recipe::{
    Checks, Copies, CrossRecipe, Disease, Frailty, Genetics, Looking, Order, Part, Planting,
    Recipe, Span,
};
pub use truth::{DiseaseTruth, Look, MadeUp, Prior, Strand, TreeTruth};
