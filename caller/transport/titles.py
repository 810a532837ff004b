"""What orders are called wherever they are called alike, and between two items of an evening. Pure."""

from __future__ import annotations

from caller.transport.order import Order

TITLES = {
    Order.GO: "Go on",
    Order.NEXT: "Next item",
    Order.PREVIOUS: "Back into the item",
    Order.SECTION_AGAIN: "Item again",
    Order.WALL_AGAIN: "Item again",
    Order.TOP: "Item again",
    Order.SLOWER: "Slower",
    Order.FASTER: "Faster",
    Order.TEMPO: "Tempo",
    Order.TAP_TEMPO: "Tap the tempo",
    Order.EASIER: "Easier way",
    Order.BOTH_WAYS: "Both ways",
    Order.SAY_FIGURE: "Say that figure",
    Order.CHANGE_OVER: "Change over",
    Order.SAY_AGAIN: "Say that again",
    Order.LOOP: "Loop this stage",
    Order.SO_FAR: "So far",
    Order.SECTION: "To a section",
    Order.TO_WALL: "To a wall",
    Order.STAGE: "To a stage",
    Order.LOOP_COUNTS: "Loop these counts",
    Order.LOOP_WALL: "Loop the wall's counts",
    Order.WAIT: "Wait after stages",
    Order.MANNER: "Way of calling",
    Order.NEXT_ITEM: "Next item",
    Order.ITEM: "To an item",
    Order.CUT: "Take out",
    Order.PUT_BACK: "Put back",
    Order.REQUEST: "Request",
    Order.LEARNT: "Learnt",
    Order.SHAKY: "Shaky",
    Order.NOT_DONE: "Not done",
}
