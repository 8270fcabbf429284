//! Promises about fit.
