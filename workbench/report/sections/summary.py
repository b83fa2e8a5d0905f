"""Summary: question, answer, grade, key evidence and recommendation on about one page."""

from workbench.reasoning.results import Reasoning
from workbench.records import Area, Opinion, PullOff, Sample
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Heading, Paragraph, Section, Voice
from workbench.report.draft import Draft, fact, plain
from workbench.report.sections.opinions import DRAFTED, basis_of
from workbench.report.sections.reasoning import GRADE_MEANS, provisional
from workbench.report.text import See, Value, Words, text
from workbench.report.wording import counted, listed, number_word, sentence, typeset


def summary(draft: Draft) -> Section:
    """Return the summary."""
    blocks: list[Block] = [*_matter(draft), *_evidence(draft), *_answers(draft), *_next(draft)]
    return Section("summary", "Summary", tuple(blocks))


def _matter(draft: Draft) -> list[Block]:
    dossier = draft.dossier
    what, site = dossier.entry("object"), dossier.entry("site")
    failing = draft.areas(Condition.FAILING)
    pulls, samples = dossier.all(PullOff), dossier.all(Sample)
    about = f" ({typeset(what[:1].lower() + what[1:])})" if what else ""
    parts: list[str | Value] = [
        f"This report concerns the coating at {site or 'a site not recorded'}{about}. "
    ]
    if failing:
        parts.append(
            f"The coating fails in {number_word(len(failing))} of "
            f"{number_word(len(dossier.all(Area)))} areas: "
            f"{draft.named(failing)}. "
        )
    done = [counted(len(pulls), "pull-off")] if pulls else []
    done += [counted(len(samples), "sample")] if samples else []
    if done:
        parts.append(
            f"It rests on {listed(done)} and the other tests, records and documents listed in it."
        )
    return [fact("summary: matter", *parts, of=failing)]


def _evidence(draft: Draft) -> list[Block]:
    result = draft.results.strength
    if result is None:
        return []
    failing = [g for g in result.groups if g.condition is Condition.FAILING]
    worst = max(failing, key=lambda g: g.broke_here + g.at_most, default=None)
    if worst is None or not worst.broke_here + worst.at_most:
        return []
    parts: list[str | Value] = [
        (
            f"In failing areas {number_word(worst.broke_here + worst.at_most)} of "
            f"{number_word(worst.n)} pull-offs on the untouched film parted, wholly or in part, "
            f"at {worst.plane_name}; the median strength of that plane there "
        ),
        *draft.values.median_of(worst),
    ]
    sound = result.group(Condition.NON_FAILING, worst.plane, worst.system)
    if sound:
        count = sound.broke_here + sound.at_most
        parts += [
            (
                f". In non-failing areas {number_word(count) if count else 'none'} of "
                f"{number_word(sound.n)} did, and the median there "
            ),
            *draft.values.median_of(sound),
        ]
    return [fact("summary: evidence", *parts, ".")]


def _answers(draft: Draft) -> list[Block]:
    blocks: list[Block] = [Heading(2, "Questions and answers", "answers")]
    held = draft.dossier.all(Opinion)
    for number, question in enumerate(draft.dossier.questions, 1):
        blocks.append(
            Paragraph(text(Words(f"Question {number}. ", strong=True), question), Voice.PLAIN)
        )
        answers = [one for one in held if one.is_on(number, question)]
        for one in answers:
            grade = f" ({one.grade.value})" if one.grade else ""
            before = "" if one.signed else DRAFTED
            blocks.append(
                Paragraph(
                    text(before, sentence(one.opinion).rstrip("."), grade, "."),
                    Voice.OPINION,
                    (*basis_of(one), one.source),
                )
            )
        if not answers:
            blocks.append(
                plain(
                    "No opinion is recorded on this question yet.",
                )
            )
    if not draft.dossier.questions:
        blocks.append(plain("No question is recorded, and so none is answered."))
    found = draft.results.reasoning
    if found and found.verdict:
        blocks.append(
            Paragraph(
                text(
                    sentence(found.verdict),
                    f" {told}" if (told := _meant(found)) else "",
                    " The reasons are in ",
                    See("section reasoning"),
                    ".",
                ),
                Voice.INFERENCE,
                found.basis,
                name="summary: verdict",
            )
        )
    return blocks


def _meant(found: Reasoning) -> str:
    """Return what the grade of the leading causes means, and whether it is provisional."""
    held = [one for name in found.leaders if (one := found.candidate(name))]
    grades = [grade for grade in GRADE_MEANS if grade in {one.grade for one in held}]
    said = [f"“{grade.value}” means: {GRADE_MEANS[grade]}." for grade in grades]
    return " ".join(filter(None, (*said, provisional(found) if grades else "")))


def _next(draft: Draft) -> list[Block]:
    del draft
    return [
        plain(
            "What is to be removed, and how a repair is to be proved, is in ",
            See("section repair"),
            "; what limits these conclusions is in ",
            See("section limits"),
            ".",
        ),
    ]
