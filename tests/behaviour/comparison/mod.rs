//! Comparisons of plans: the same days for every plan, verdicts, aims, and when to stop.

mod aims;
mod same_days;
mod scoreboard;
mod until_clear;
mod waters;
