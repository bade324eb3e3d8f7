"""Buying together: what is asked of contractors, what they offer, and who buys when.

Read in this order: :mod:`.scope` (what a complete job holds), :mod:`.request`
(what every bidder is asked), :mod:`.bids` with :mod:`.bid_sheet` (what they
offer), :mod:`.compare` (the same job side by side), :mod:`.households` and
:mod:`.rounds` (who buys what when; :mod:`.plan` is the result, :mod:`.program` the mathematics,
:mod:`.recheck` adds it up again), :mod:`.thresholds` (whether a round goes
ahead).

Pure functions on values: no store, no screen. Nothing here binds anybody; each
owner contracts for their own home.
"""
