//! What is handed over, each sheet drawn once: proof, artwork, mount pattern,
//! plate drilling sheet, mock-up. A job in, a [`crate::drawing::Drawing`] out.
