//! Promises about house.
