//! The statistics: estimates, intervals, selection, search and sensitivity.

mod aims;
mod calibration;
mod decomposition;
mod design;
mod explained_variance;
mod independent;
mod intervals;
mod nist;
mod placing;
mod renewal;
mod search;
mod selection;
mod sensitivity;
mod summaries;
mod survival;
