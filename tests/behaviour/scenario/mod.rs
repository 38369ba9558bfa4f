//! Scenario files: what they mean, how errors in them are reported, and that their documentation is correct.

mod documents;
mod faults;
mod meaning;
mod overrides;
mod reading;
mod rewrite;
mod rules;
mod sizes;
mod vary;
