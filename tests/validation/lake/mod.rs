//! The clock, the light, the course of the day and the bed of the water.

mod course;
mod cover;
mod light;
mod soundings;
mod sun;
