//! The verbs of the job; they hold the clock, the dice and the store.
