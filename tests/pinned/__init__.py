"""What must not change while the house is rebuilt: plans, stored sheets, cards, answers, pages, as they were."""
