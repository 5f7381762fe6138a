"""Every remark a plan can make: its sentence, and what to do about it.

Calculators hand over a code and numbers; the words live here alone, so that page, card and API speak alike. To add
a remark, add a row. `{names}` are the remark's values, written in the reader's units.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Wording:
    """What one remark says.

    Attributes
    ----------
    text : str
        The sentence, with {names} of the remark's values. [-]
    advice : str
        What to do, with the same names; empty when there is nothing to do. [-]
    """

    text: str
    advice: str = ""


_UNEQUAL = (
    "Put one of them on a second beam, weight that stripe by itself, or keep the warp short. Take-up is only known "
    "once a sample is woven, and nobody can promise equal tension."
)

WORDINGS: Mapping[str, Wording] = MappingProxyType({
    # Sett
    "sett_above_greatest": Wording(
        "{sett} is closer than {yarn} can lie in {weave}: the greatest sett is about {greatest}.",
        "Open the sett, or wrap the yarn round a ruler and enter what you counted.",
    ),
    "sett_closer_than_usual": Wording(
        "{sett} is closer than is usual for {yarn}: {low} to {high}.",
        "Weave a sample first; your own records come before any chart.",
    ),
    "sett_wider_than_usual": Wording(
        "{sett} is more open than is usual for {yarn}: {low} to {high}.",
        "Weave a sample first; your own records come before any chart.",
    ),
    "chart_misprint": Wording(
        "In {source} the row of {yarn} is doubtful: {misprint}.",
        "Wrap the yarn round a ruler, or weave a sample, before you go by it.",
    ),
    # Width and ends
    "ends_changed": Wording(
        "{wanted} became {ends} so that repeats, pairs or dents come out whole.",
        "The width in reed is now {width}.",
    ),
    "width_changed": Wording(
        "The finished width becomes about {expected}, not {wanted}.", "Change repeats, balance or sett if that matters."
    ),
    "multiple_missed": Wording(
        "Whole repeats of {repeat} with {balance} of balance never make a multiple of {multiple}; {ends} are planned.",
        "Change the balance or the repeat, or wind the last pass with fewer ends.",
    ),
    "repeat_cut": Wording(
        "After {repeats} whole repeats {balance} are left over.",
        "Plan whole repeats, with balance ends so that both edges match.",
    ),
    "odd_ends": Wording("{ends} wound {at_once} at a time leave {odd}.", "Wind the last pass with fewer ends."),
    "width_over_loom": Wording(
        "The warp is {width} in the reed; {loom} weaves {room} at most.",
        "Take a wider loom, fewer ends or a closer sett.",
    ),
    "beam_narrow": Wording(
        "The warp is {width} in the reed; the beam carries {room} at most.", "Take a wider beam, or a narrower warp."
    ),
    "order_not_symmetrical": Wording(
        "The warp starts with {first} and ends with {last}, so its edges differ.",
        "Add balance ends after the last repeat if both edges should match.",
    ),
    # Length
    "one_more_fits": Wording(
        "One more piece needs {needs}; {left} are left.", "It fits without touching the margin of {margin}."
    ),
    "one_more_short": Wording(
        "One more piece needs {needs}; {left} are left: {short} too little.",
        "It would fit only by spending the margin of {margin}.",
    ),
    "one_more_misses": Wording("One more piece needs {needs}; {left} are left.", "Plan a longer warp if you want it."),
    "margin_small": Wording(
        "The margin is {margin}; {usual} is usual.", "Keep at least this for broken ends and a slow start."
    ),
    "losses_missing": Wording(
        "Neither take-up nor shrinkage is allowed for, so the cloth comes out short.",
        "Enter what your own records say; weaving always uses up some of the warp.",
    ),
    "waste_below_loom": Wording(
        "The brief allows {waste} of loom waste; {loom} loses {measured} as measured here.",
        "Use the measured waste, or say on the record what has changed.",
    ),
    # Reed
    "reed_missing": Wording("No reed is listed for {loom}.", "Ask a steward to enter the reeds of the studio."),
    "reed_unsuitable": Wording(
        "No reed of {loom} can carry this warp at about {wanted}.", "Borrow another reed, or change the sett."
    ),
    "reed_too_short": Wording(
        "The warp is {width} in the reed; {reed} is {length} long.", "Take a longer reed or a closer sett."
    ),
    "reed_changes_sett": Wording(
        "No reed here gives {wanted} exactly; {reed} gives {sett}, {error} off.",
        "Accept the sett, or change the sett to suit the reed; the width follows it.",
    ),
    "sley_by_stripe": Wording(
        "Sley {yarn} {order} in the {reed} reed.", "Count the dents of each stripe; the setts differ."
    ),
    # Heddles and shafts
    "heddles_short": Wording(
        "Shaft {shaft} needs {needed} heddles and has {held}.", "Move or borrow {missing} heddles before threading."
    ),
    "heddles_short_alike": Wording(
        "Shafts {shafts} each need {needed} heddles and have {held}.",
        "Move or borrow {missing} heddles for each, {total} in all, before threading.",
    ),
    "heddles_unknown": Wording(
        "The heddles of {loom} are not counted.", "Count them on each shaft before winding the warp."
    ),
    "shafts_short": Wording(
        "{weave} needs {needed} shafts; the loom has {held}.", "Take another loom, or another weave."
    ),
    "shafts_idle": Wording(
        "Threaded and never crossed by a pick: the ends on shaft {shafts}.",
        "Type a threading that leaves these shafts out, or a lift plan that raises them now and then.",
    ),
    # Sections
    "sections_short": Wording(
        "The warp needs {needed} sections; the beam has {held}.", "Take a wider beam, or a narrower warp."
    ),
    "sections_overhang": Wording(
        "The warp reaches past the beam by {over} at the {side}, seen from the seat, though it would fit.",
        "Move it the other way.",
    ),
    "edge_partial": Wording(
        "The edge sections are not full: {left} of {left_full} at the left and {right} of {right_full} at the right, "
        "seen from the seat.",
        "Ends spread over the whole section would come out {shorter} ({share}) shorter: the edges go tight, then "
        "break. Pack them against the full neighbour at the same density and hold the free side with a moved pin, or "
        "fill with {dummies} dummy ends.",
    ),
    "edge_partial_at": Wording(
        "The edge section at the {side} is not full: {ends} of {full}, seen from the seat.",
        "Ends spread over the whole section would come out {shorter} ({share}) shorter: the edge goes tight, then "
        "breaks. Pack them against the full neighbour at the same density and hold the free side with a moved pin, or "
        "fill with {dummies} dummy ends.",
    ),
    "edge_between_dividers": Wording(
        "The warp is as wide as {sections} whole sections and lies between the dividers: {left} of {left_full} at the "
        "left and {right} of {right_full} at the right, seen from the seat.",
        "Move it sideways by {one_sided} and every section is full; sley it just as far off the middle of the reed. "
        "Left as it is, ends spread over the edge sections would come out {shorter} ({share}) shorter: pack them "
        "against the full neighbour at the same density, or fill with dummy ends.",
    ),
    "edge_fills": Wording(
        "{fewer} in {fewer_width}, or {more} in {more_width}, would fill whole sections.",
        "An odd number of sections may need the warp moved by {moved}.",
    ),
    "edge_fills_by": Wording(
        "{ends} in {width} would fill whole sections.",
        "An odd number of sections may need the warp moved by {moved}.",
    ),
    "edge_moves": Wording(
        "Moved by {one_sided} to the {side}, seen from the seat, only one side of the warp would be partial.",
        "Sley it just as far off the middle of the reed.",
    ),
    "off_centre": Wording(
        "The warp lies {shift} off the middle of the beam, to the {side} seen from the seat.",
        "Sley it just as far off the middle of the reed.",
    ),
    "selvedge_sections": Wording(
        "The outer sections hold {extra} more for the selvedges.", "Have as many more spools ready for these two."
    ),
    # Beam
    "rakes_over": Wording(
        "{turns} would lie {depth} deep; the rakes hold {room}, which is {most} or {longest}.",
        "Plan a shorter warp, share the length among {parts} warps, or take a larger beam or one with higher rakes. "
        "Yarn must never lie at the tips of the rakes.",
    ),
    "rakes_by_build_up": Wording(
        "{turns} are planned by the empty beam; the rakes hold {most}. Counting the build-up, {fewer} would do.",
        "Calibrate this beam with this yarn first, then wind the lower number, and watch the rakes.",
    ),
    "rakes_in_doubt": Wording(
        "{turns} will likely lie {depth} deep, but up to {deepest} by what the tape leaves open; the rakes hold "
        "{room}, for certain no more than {held}.",
        "Tape the round from {held} on and stop before the yarn comes to the tips of the rakes, or plan a shorter "
        "warp.",
    ),
    "rakes_near": Wording(
        "The yarn will lie {depth} deep; the rakes hold {room}.", "Watch the edges of each section in the last turns."
    ),
    "sections_unequal": Wording(
        "Sections differ by {length} over the warp, {share}: the fuller ones go slack.",
        "Make the sections alike, give the odd one its own tension, or keep the warp short.",
    ),
    "build_up": Wording(
        "Build-up makes {turns} hold {real}, not {nominal}.", "Spools are planned for the longer length."
    ),
    "fewer_turns_would_do": Wording(
        "Counting the build-up, {turns} would do instead of {planned}.",
        "Plan on it only after calibrating this beam with this yarn.",
    ),
    "turns_in_doubt": Wording(
        "By what the tape leaves open, {fewest} may reach the length; {safe} are planned.",
        "Tape one section of this warp before and after, and enter it with the beam: more turns between the two tell "
        "it better.",
    ),
    "density_guessed": Wording(
        "How densely {yarn} winds, {density}, is an estimate without a published source.",
        "Tape the beam before and after one section, and enter both on the loom’s page.",
    ),
    "knot_on_bar": Wording(
        "The leader knot lands on a bar of the beam.", "{change} every leader by {mend} so that it lies in a gap."
    ),
    "knot_too_long": Wording(
        "The leader knot is longer than the {gap} from bar to bar, so it lies over one wherever it lands.",
        "Tie a shorter knot or loop; no length of the leader helps.",
    ),
    "thickness_differs": Wording(
        "{thick} and {thin} build up and take up differently.",
        "Take a second beam, weight one of them apart, or keep the warp short; nobody can promise equal tension.",
    ),
    # Two beams
    "two_beams": Wording(
        "{ends} of the {all} of this cloth lie on the other beam: {elsewhere}.",
        "Leave their room free here; sley and thread them in their places. Reed, heddles and weft stand on both "
        "sheets: count them once. In weaving let the brakes of both beams off together, then tighten each warp by "
        "itself.",
    ),
    "part_sections": Wording(
        "The ends of this beam fill only a part of these sections, seen from the seat: {places}.",
        "Keep each bundle to its part with moved pins or cards, in line with its place in the reed; spread wider it "
        "lies lower and comes out shorter.",
    ),
    "take_up_tight": Wording(
        "{more} takes up more than {less}: it needs {needs} more over {length} and has {given}, so it will be tight.",
        _UNEQUAL,
    ),
    "take_up_tight_alone": Wording(
        "{more} takes up more than {less}: it needs {needs} more over {length} and has none, so it will be tight.",
        _UNEQUAL,
    ),
    "take_up_tighter": Wording(
        "{more} takes up more than {less}: it needs {needs} more over {length}, but its sections come out {given} "
        "shorter, so it will be tight.",
        _UNEQUAL,
    ),
    # Winding
    "spools_over_rack": Wording(
        "{needed} spools are needed at once; the rack holds {held}.",
        "Borrow a rack, take narrower sections, or wind chains.",
    ),
    "half_pitch_fits_rack": Wording(
        "With sections of half the width {at_once} spools would be needed at once; the rack holds {held}.",
        "Set the dividers at half the pitch, if the beam takes them: {tyings} bundles to tie on, each spool fuller.",
    ),
    "mixed_fits_rack": Wording(
        "With the commonest sections by the box and the others as chains, {at_once} spools would be needed at once; "
        "the rack holds {held}.",
        "Wind {chains} chains, {passes} passes in all, by the length of the first section on the beam.",
    ),
    "rethreads": Wording(
        "The colours need {setups} set-ups of spools; changing them loses {lost} of yarn.",
        "Wind all sections of one set-up before changing to the next.",
    ),
    "order_fits_sections": Wording(
        "With {order} each section would be wound alike.", "It saves {setups} changes of spools."
    ),
    "board_too_short": Wording(
        "A chain is {length}; the longest path here is {path}.", "Take the mill, or plan a shorter warp."
    ),
    "board_path": Wording(
        "Every chain must be {length} long.",
        "Measure the path with a string that does not stretch: boards are seldom exactly what they are called.",
    ),
    "board_paths": Wording(
        "The chains must be {shortest} to {longest} long, each as its section takes on.",
        "Measure each path with a string that does not stretch: boards are seldom exactly what they are called.",
    ),
    "mixed_winding": Wording(
        "Chains for section {chains}, the box for section {box}; all take {turns} from the same start mark.",
        "Wind the box first, or as it suits. Put each chain on under the pull that the box gives, stop at the same "
        "turn and not where the chain ends, and hold its round at the end against its neighbours' before you cut. "
        "Chain and box seldom pull quite alike; nobody can promise equal tension.",
    ),
    "chain_length_reckoned": Wording(
        "How long the chains must be rests on a depth of turn that was reckoned, not measured.",
        "Wind a section by the box first and measure what it took on: a chain cannot be made longer afterwards.",
    ),
    "all_sections_as_chains": Wording(
        "Every section is named to be a chain, so the whole warp is wound as chains.",
        "The board sets the length, and the turns follow from it.",
    ),
    "chain_sections_empty": Wording(
        "Named to be a chain, but without ends of this warp: section {places}.", "No chain is planned for them."
    ),
    "comb_must_turn": Wording(
        "The bundle leaves the comb wider than the section.", "Turn the comb by {angle} so that it narrows."
    ),
    "comb_too_narrow": Wording(
        "The bundle leaves the comb narrower than the section.", "Take a coarser comb, or fewer ends in each dent."
    ),
    # Yarn
    "yarn_short": Wording(
        "{yarn} is short by {short}: {needed} needed, {held} free.",
        "Order it in the same dye lot, change the stripes, or shorten the warp.",
    ),
    "yarn_for_fewer": Wording(
        "What is free of {yarn} suffices for {ends} of {all}, or for {bare} with no reserve.",
        "Wait for more, fill the stripe with another yarn, drop it, or spend the reserve.",
    ),
    "yarn_close": Wording(
        "{yarn} only just suffices: {needed} needed, {held} free.", "Weigh the package before you start."
    ),
    "yarn_unknown": Wording("What is free of {yarn} is not known.", "Weigh it; the warp needs {needed}."),
    # Cautions: what is usual to say; the studio's rules and the maker's manual come first
    "caution_beam": Wording(
        "A loaded beam can spin back.",
        "Hold the wheel or handle before freeing pawl or brake, take the crank off when you are not cranking, and "
        "keep fingers and face away from turning rakes. The studio's rules and the loom maker's manual come first.",
    ),
    "caution_two_beams": Wording(
        "Two loaded beams have two brakes, and each can spin back.",
        "Make sure which brake, pawl and crank belong to which beam before you free one, hold that beam while you do, "
        "and leave no crank on either. The studio's rules and the loom maker's manual come first.",
    ),
    "caution_box": Wording(
        "A tension box falls when its clamp works loose.",
        "Check the clamp before each section. The studio's rules and the maker's manual come first.",
    ),
    "caution_long_work": Wording(
        "This warp takes many hours to wind.",
        "Rest about every 45 minutes and stop at pain; tie back hair and cords near beams and winders.",
    ),
})  # fmt: skip
"""Code of a remark to its words; `tests/planner/plan/test_formatter.py` holds every code used in `calc` against it."""
