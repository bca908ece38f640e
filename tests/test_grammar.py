"""Expressions: what is parsed, matched, enumerated and written out is one language.

Source of the notation: JSpeech Grammar Format, W3C Note, 5 June 2000; what is said
of it beside the checks is from memory. Beyond it, properties only.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voice.words import grammar
from voice.words.grammar import BadExpression, Choice, Node, Rule, Sequence, Word

RULES: dict[str, Node] = {"size": Word("small"), "many": Choice((Word("two"), Rule("size")))}
WORDS = st.sampled_from(["round", "done", "what's", "a", "next"]).map(Word)
LEAVES: st.SearchStrategy[Node] = st.one_of(WORDS, st.sampled_from(sorted(RULES)).map(Rule))


def _grown(inner: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    several = st.lists(inner, min_size=2, max_size=3).map(tuple)
    return st.one_of(
        several.map(Sequence),
        several.map(Choice),
        inner.map(lambda n: Choice((n, grammar.NOTHING))),
    )


NODES: st.SearchStrategy[Node] = st.recursive(LEAVES, _grown, max_leaves=7)


def _language(node: Node) -> set[tuple[str, ...]]:
    return set(grammar.sentences(node, RULES))


def written_out(node: Node) -> str:
    """The expression in JSGF."""
    match node:
        case Word(text):
            return text
        case Rule(name):
            return f"<{name}>"
        case Sequence(parts):
            return " ".join(map(written_out, parts))
        case Choice((inner, last)) if last == grammar.NOTHING:
            return f"[{written_out(inner)}]"
        case Choice(options):
            return "(" + " | ".join(map(written_out, options)) + ")"


@given(NODES)
def test_an_expression_written_out_and_read_again_means_the_same(node: Node) -> None:
    again = grammar.parse(written_out(node))
    assert _language(again) == _language(node)
    assert grammar.parse(written_out(again)) == again
    assert grammar.rules_in(again) == grammar.rules_in(node)


def _follow(node: Node) -> Node:
    """The expression with its rules put in, so that the pattern needs no groups."""
    match node:
        case Word():
            return node
        case Rule(name):
            return _follow(RULES[name])
        case Sequence(parts):
            return Sequence(tuple(map(_follow, parts)))
        case Choice(options):
            return Choice(tuple(map(_follow, options)))


@given(NODES, st.lists(st.sampled_from(["round", "done", "what's", "small", "two"]), max_size=4))
def test_the_pattern_takes_the_sentences_and_no_others(node: Node, words: list[str]) -> None:
    pattern = re.compile(grammar.regex(_follow(node)))
    language = _language(node)
    for sentence in [*sorted(language)[:30], tuple(words)]:
        said = "".join(f"{word} " for word in sentence).replace("'", "")
        assert bool(pattern.fullmatch(said)) is (sentence in language)


@given(st.lists(NODES, min_size=1, max_size=3))
def test_a_grammar_knows_its_words(nodes: list[Node]) -> None:
    made = grammar.Grammar(tuple(nodes), RULES)
    heard = {word for node in nodes for sentence in _language(node) for word in sentence}
    assert made.words() == heard


def _spelled(node: Node) -> set[tuple[str, ...]]:
    """The sentences with rules left as their names."""
    names = {name: Word(f"<{name}>") for name in grammar.rules_in(node)}
    return set(grammar.sentences(node, names))


@given(st.text(alphabet='ab <>[]()|;*+={}"/\\\t', max_size=12))
def test_any_text_is_an_expression_or_refused_with_the_text_named(text: str) -> None:
    try:
        node = grammar.parse(text)
    except BadExpression:
        with pytest.raises(BadExpression, match=re.escape(repr(text))):
            grammar.parse(text)
        return
    # JSGF keeps these marks from tokens: they stand for weights, tags, repeats and comments.
    assert not set(text) & set(';*+={}"/\\')
    again = grammar.parse(written_out(node))
    assert _spelled(again) == _spelled(node)
    assert grammar.rules_in(node) == set(re.findall(r"<([ab]+)>", text))


@pytest.mark.parametrize(
    "bad",
    [
        "",
        " ",
        "()",
        "[]",
        "a |",
        "| a",
        "(a",
        "a)",
        "[a)",
        "(a]",
        "a]",
        "<a b>",
        "<a",
        "a>",
        "<A>",
        "[a | ]",
        "a*",
        "a+",
        "a {tag}",
        "/2/ a",
        "a; b",
        "a = b",
        '"a"',
    ],
)
def test_what_is_not_in_the_notation_is_refused(bad: str) -> None:
    with pytest.raises(BadExpression):
        grammar.parse(bad)


def test_sequences_bind_closer_than_bars_and_brackets_are_optional() -> None:
    # JSGF: alternatives have the lowest precedence; [x] is x or nothing.
    node = grammar.parse("a b | c [d] (e | <size>)")
    assert list(grammar.sentences(node, RULES)) == [
        ("a", "b"),
        ("c", "d", "e"),
        ("c", "d", "small"),
        ("c", "e"),
        ("c", "small"),
    ]


def test_a_rule_is_a_named_group_of_whole_words() -> None:
    match = re.fullmatch(grammar.regex(grammar.parse("head <length> [wide]")), "head six inches ")
    assert match is not None
    assert match["length"] == "six inches "
    assert not re.fullmatch(grammar.regex(grammar.parse("head")), "ahead ")


def test_a_rule_that_is_not_defined_is_an_error() -> None:
    with pytest.raises(KeyError):
        list(grammar.sentences(Rule("nowhere"), RULES))
    with pytest.raises(KeyError):
        grammar.Grammar((Rule("nowhere"),), RULES).words()
