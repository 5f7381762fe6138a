"""How it is worked out: rules, questions, disagreements."""
