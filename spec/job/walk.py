"""Raw values and schema side by side: every node gets its one address, its kind and its type."""

from __future__ import annotations

from contextlib import suppress

from spec.finding import Finding, Level, Place, Spot
from spec.job import inherit
from spec.job.kinds import CONTINUES, KIND_OF_CONTAINER
from spec.job.node import Node
from spec.job.overrides import ORIGIN as OVERRIDE
from spec.job.overrides import Overrides
from spec.job.raw import Raw, State
from spec.job.schema import Shape
from spec.job.states import STATES
from spec.job.validate import against_shape, close_word
from spec.job.values import Unread, typed

_ROOM_WIDE = ("stacks",)
_HOUSE = "house"
_TIER_KINDS = ("racks",)


class Walk:
    """Walks raw values and schema side by side and gives every node its one address."""

    def __init__(self, overrides: Overrides, bare_length: str | None) -> None:
        self.overrides = overrides
        self.bare_length = bare_length
        self.index: dict[str, Node] = {}
        self.names: dict[str, Node] = {}
        self.findings: list[Finding] = []
        self.takers: dict[str, set[Node]] = {link: set() for link in inherit.LINKS}

    def whole(self, raw: Raw, shape: Shape) -> Node:
        """The node tree of a whole file."""
        top = Node("", "", "", shape, None)
        top.place = top.key_place = raw.place
        top.mapped = True
        self._children(top, raw, shape)
        return top

    def _children(self, node: Node, raw: Raw, shape: Shape) -> None:
        for key, below in raw.map().items():
            child_shape = shape.below(key)
            if child_shape is None:
                self._unknown(node, key, below, shape)
                continue
            self._child(node, key, below, child_shape)

    def _child(self, parent: Node, key: str, raw: Raw, shape: Shape) -> None:
        forms, shape = shape, self._form(shape, raw)
        address, prefix = self._address(parent, key, shape)
        if raw.value == CONTINUES and parent.key == "left_to_right":
            address = f"{parent.prefix}{key}"  # the mark is that of the piece itself
        if shape.container and address in self.index:
            address = f"{_HOUSE}.{address}"  # the job has a container of that name too
        node = Node(key, address, prefix, shape, parent)
        node.place, node.key_place = raw.place, raw.key_place
        node.state, node.origin = raw.state, raw.origin
        self._inherited(node, parent, raw)
        self._context(node, parent)
        self.overrides.put_in(node, raw)
        if node.origin == OVERRIDE:
            node.shape = shape = self._form(forms, raw)
        if raw.state is not None:
            self._misstated(node, raw.state)
        parent.children[key] = node
        if shape.container:
            parent.containers.append(node)
        if not self._register(node):
            node.state = State("unreadable", raw.place, who="lead", why=f"a second {key}")
            return
        if raw.value is None:
            return
        if isinstance(raw.value, dict) and (
            shape.is_map or not (shape.scalar or shape.quantity[0])
        ):
            self._map(node, parent, raw, shape)
        elif not self._misspelt_state(node, raw, shape):
            self._leaf(node, raw)

    def _map(self, node: Node, parent: Node, raw: Raw, shape: Shape) -> None:
        node.mapped = True
        kind = self._kind(node, raw, parent)
        if kind and raw.text("is") and shape.kinds and kind not in shape.kinds:
            self._no_such_kind(node, raw, kind, shape)
            return
        if kind:
            node.kind = kind
            node.shape = shape.of_kind(kind)
        elif shape.kinds and "is" not in raw.map() and self._kindless(node, raw, shape):
            return
        if self._misspelt_state(node, raw, node.shape):
            return
        self._drop_strange(raw, node.shape)
        for link, takers in self.takers.items():
            if link in raw.map():
                takers.add(node)
        self._children(node, raw, node.shape)

    def _form(self, shape: Shape, raw: Raw) -> Shape:
        """Which of its forms a value takes: of several for a text, the first that can be read."""
        if isinstance(raw.value, dict):
            return shape.for_map()
        if isinstance(raw.value, list):
            return shape.for_list()
        if not isinstance(raw.value, str):
            return shape
        forms = shape.texts(raw.value)
        for form in forms if len(forms) > 1 else ():
            with suppress(Unread):
                typed(raw, form, self.bare_length)
                return form
        return forms[0]

    def _address(self, parent: Node, key: str, shape: Shape) -> tuple[str, str]:
        entry = parent.shape.container and key not in parent.shape.names
        top_level = parent.parent is None or parent.parent.parent is None
        if entry and (inherit.MARK.match(key) or top_level or parent.key in _ROOM_WIDE):
            return key, f"{key}."
        address = f"{parent.prefix}{key}"
        return address, parent.prefix if shape.container else f"{address}."

    def _context(self, node: Node, parent: Node) -> None:
        node.container = parent.key if parent.shape.container else ""
        node.room, node.surface, node.heading = parent.room, parent.surface, parent.heading
        if node.container == "rooms":
            node.room = node.key
        elif node.container == "walls_clockwise" or node.key in ("ceiling", "floor"):
            if node.room:
                node.surface = node.address
        elif node.shape.container and node.surface and parent.address == node.surface:
            node.heading = node.key

    def _inherited(self, node: Node, parent: Node, raw: Raw) -> None:
        """Where an inherited fact was written, and the link through which it came."""
        if "." in raw.through:  # an address already: that of a file which gave the value
            node.through = raw.through
            return
        link, _, name = raw.origin.partition(" ")
        if link not in self.takers or not name:
            return
        taker: Node | None = parent
        while taker is not None and taker not in self.takers[link]:
            taker = taker.parent
        if taker is not None:
            node.model = f"{name}.{node.address.removeprefix(taker.prefix)}"
            node.through = f"{taker.prefix}{link}"

    def standard(self, address: str, raw: Raw, shape: Shape) -> None:
        """A standard that the house leaves at its default, with the value of its override."""
        node = Node(address.rpartition(".")[2], address, f"{address}.", shape, None)
        node.place, node.key_place = raw.place, raw.key_place
        value = Raw(None, raw.place, raw.key_place)
        self.overrides.put_in(node, value)
        if value.state is not None:
            self._misstated(node, value.state)
        self.index[address] = node
        self._leaf(node, value)
        self.findings += against_shape(value, node)

    def _misstated(self, node: Node, state: State) -> None:
        """What is wrong with the way in which a state is written."""
        for fault in () if node.model else state.faults:
            self.findings.append(
                _error("reading.wrong-state", fault.message, fault.cure, fault.place, node.address)
            )
        if state.kind == "dropped" and node.origin != OVERRIDE:
            self.findings.append(
                _error(
                    "reading.nothing-to-drop",
                    f"`{node.address}` is dropped, but nothing of that name was taken over",
                    "`dropped` takes out what `like` or `product` brings; where there is none, "
                    "write not_applicable",
                    state.place,
                    node.address,
                )
            )

    def _register(self, node: Node) -> bool:
        """Enter a node by its address; False where that is taken: the second cannot be read."""
        known = self.index.get(node.address)
        upper = node.parent
        twice = upper is not None and self.index.get(upper.address) not in (None, upper)
        if twice and upper is not None and upper.parent is not None:
            return True  # said of the thing itself
        if known is not None and not node.shape.container:
            self.findings.append(
                Finding(
                    "job.name-used-twice",
                    Level.ERROR,
                    f"`{node.key}` names two things: here and at {known.key_place}",
                    "give one of them a mark or word of its own; marks are not reused",
                    (node.spot, known.spot),
                )
            )
            return False
        self.index.setdefault(node.address, node)
        if node.address == node.key:
            self.names.setdefault(node.key, node)
        return True

    def _kind(self, node: Node, raw: Raw, parent: Node) -> str:
        said = raw.text("is")
        if said:
            return said
        kind = node.shape.default_kind
        if kind and node.shape.kinds and kind not in node.shape.kinds:
            kind = ""  # the heading has several sorts of one kind: which, only the entry says
        kind = kind or self._kind_from_tier(node, parent)
        if kind:
            raw.map().setdefault("is", Raw(kind, raw.place, raw.key_place, origin="its heading"))
            return kind
        return KIND_OF_CONTAINER.get(node.container, "")

    def _kindless(self, node: Node, raw: Raw, shape: Shape) -> bool:
        """Whether facts of a thing cannot be told because it does not say what it is."""
        if all(shape.below(key) is not None for key in raw.map()):
            return False
        kinds = [k for k in shape.kinds if all(shape.of_kind(k).below(key) for key in raw.map())]
        self.findings.append(
            _error(
                "reading.missing-key",
                f"`{node.address}` does not say what it is, so its facts cannot be read",
                f"write `is`, with one of: {', '.join(kinds or shape.kinds)}",
                raw.key_place,
                node.address,
            )
        )
        node.state = State("unreadable", raw.place, who="lead", why="no `is`")
        return True

    def _no_such_kind(self, node: Node, raw: Raw, kind: str, shape: Shape) -> None:
        said = raw.map()["is"]
        self.findings.append(
            _error(
                "reading.unknown-word",
                f"`{kind}` is no kind of thing that {node.address} can be"
                f"{close_word(kind, list(shape.kinds))}",
                f"write `is` with one of: {', '.join(shape.kinds)}",
                said.place,
                f"{node.prefix}is",
            )
        )
        node.state = State("unreadable", raw.place, who="lead", why=kind)
        below = shape.below("is")
        if below is not None:
            self._child(node, "is", said, below)
            node.children["is"].state = State("unreadable", said.place, who="lead", why=kind)
            node.children["is"].value = None

    def _misspelt_state(self, node: Node, raw: Raw, shape: Shape) -> bool:
        """A map that begins with a word much like that of a state, and is no map of facts."""
        first = next(iter(raw.map()), "")
        if not first or shape.below(first) is not None:
            return False
        slip = close_word(first, list(STATES))
        if not slip:
            return False
        self.findings.append(
            _error(
                "reading.wrong-state",
                f"`{first}` begins no state of {node.address}{slip}",
                "write open (who decides), assumed (the value), not_applicable or dropped (why)",
                raw.map()[first].key_place,
                node.address,
            )
        )
        node.state = State("unreadable", raw.place, who="lead", why=first)
        return True

    def _kind_from_tier(self, node: Node, parent: Node) -> str:
        """A piece of a run that says no kind is of the kind of its tier."""
        if parent.key != "left_to_right" or parent.parent is None:
            return ""
        return _TIER_KINDS[0] if _TIER_KINDS[0] in node.shape.kinds else ""

    @staticmethod
    def _drop_strange(raw: Raw, shape: Shape) -> None:
        """What is taken over and not for this thing: a fact about a place, or of another kind."""
        for key, below in list(raw.map().items()):
            known = shape.below(key)
            from_elsewhere = below.through and below.origin != OVERRIDE
            strange = known is None and (from_elsewhere or below.origin == "its heading")
            if known is not None and known.own_place:
                strange = _from_another(below)
                _leave_out_inherited(below)
            if strange:
                del raw.map()[key]

    def _unknown(self, node: Node, key: str, raw: Raw, shape: Shape) -> None:
        told_by_reading = raw.state is not None and raw.state.kind == "unreadable"
        if raw.origin.startswith("like") or told_by_reading:
            return
        listed = node.parent is not None and node.parent.key in inherit.ORDERING
        if listed and key in ("before", "after"):
            self._no_neighbor(node, key, raw)
            return
        where = f"`{node.address}`" if node.address else "the job"
        computed = shape.schema.get("computed", {}).get(key)
        if computed:
            rule = "reading.computed-value"
            message = f"`{key}` of {where} is not written: it follows from {computed}"
            cure = "take it out; it is computed and shown in the documents"
        else:
            rule = "reading.unknown-key"
            slip = close_word(key, [*shape.names, *shape.kinds])
            message = f"`{key}` is not known under {where}{slip}"
            known = ", ".join(shape.names[:24])
            cure = f"what is known here: {known}" if known else "use a mark (D1) or a small word"
        address = f"{node.prefix}{key}"
        self.findings.append(_error(rule, message, cure, raw.key_place, address))

    def _no_neighbor(self, node: Node, key: str, raw: Raw) -> None:
        """A `before` or `after` that was of no use in putting a new entry into its list."""
        assert node.parent is not None
        name = str(raw.value)
        others = [k for k in node.parent.children if k not in (node.key, name)]
        message = f"`{key}: {name}` does not say where {node.key} comes in `{node.parent.address}`"
        message += close_word(name, others)
        cure = f"a new entry beside those of `like` names one of them; without `like`, {key} goes"
        address = f"{node.prefix}{key}"
        self.findings.append(_error("reading.no-neighbor", message, cure, raw.place, address))

    def _leaf(self, node: Node, raw: Raw) -> None:
        if isinstance(raw.value, dict):
            return
        items = raw.value if isinstance(raw.value, list) else [raw]
        node.written = ", ".join(str(i.value) for i in items if isinstance(i.value, str))
        if node.shape.is_map and not isinstance(raw.value, list) and not node.shape.scalar:
            return
        try:
            node.value = typed(raw, node.shape, self.bare_length)
        except Unread as error:
            node.state = State("unreadable", raw.place, who="lead", why=node.written)
            self.findings.append(
                _error(
                    "reading.unreadable-value", error.message, error.cure, raw.place, node.address
                )
            )


def _from_another(raw: Raw) -> bool:
    return raw.origin.startswith("like ")


def _leave_out_inherited(raw: Raw) -> None:
    """A place of one's own keeps nothing of the place of the thing that one is like."""
    for key, below in list(raw.map().items()):
        if _from_another(below):
            del raw.map()[key]


def _error(rule: str, message: str, cure: str, place: Place, address: str) -> Finding:
    return Finding(rule, Level.ERROR, message, cure, (Spot(address, place),))
