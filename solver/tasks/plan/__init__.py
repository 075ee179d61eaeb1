"""Plan nights: from forecast and stock to preparation, order, and what spoils.

`items` and `supply` say what there is and how more is had, `question` puts it in numbers (`ticks`,
`sources`), `plan` reads the result back; `vessel_assignment` says who has what vessel at which
hours, and where none is free. Bottles come in cases and are opened one by one; what is open of one
counts as opened today. A drink whose batch stands on the shelf takes the batch, and what is missing
of that is mixed by the serve, as a supply of its own. An egg that is separated for its white gives
its yolk too, on that day, as a by-product. What begins before `Bar.now` is not planned; what is
begun now counts for the first night before which it is ready (`ready_days`).

A forecast (40%) holds to the whole drink on every night and in all; a range is what the plan may
choose in; a drink without either is between half and twice an equal part of the rest. Nothing is
prepared beyond what the drinks could use, not even to use up what would spoil. `ways_out` asks each
way out as it would be typed before it is told; `missing_supplies` names what cannot be ready in
time.
"""
