"""What lies beneath the coating, and what the papers say of the substrate."""

from itertools import pairwise

from workbench.reasoning.derivation.age import CEMENTITIOUS
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.planes import old_layers
from workbench.reasoning.derivation.readings import judge
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    found,
    named,
    silent,
    sources_of,
)
from workbench.reasoning.history import coats_laid
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Document, Measurement
from workbench.records.codes import (
    Chemistry,
    DocumentKind,
    DocumentStatus,
    Substrate,
)

ABSORBING = (*CEMENTITIOUS, Substrate.WOOD)

_BLEEDS = (Substrate.BITUMINOUS, Chemistry.COAL_TAR_EPOXY)


def existing_old_coating_retained(scene: Scene) -> Finding:
    """Return whether an older coating was left in place, from the layers of the system."""
    layers = scene.system()
    if not layers:
        return silent("the layers of the system are not recorded", scene.sources)
    old = old_layers(layers)
    if old:
        kept = [coat for coat in layers if coat.order in old]
        return found(YES, "an older coating was left in place", sources_of(kept))
    laid = [one for area in scene.areas for one in coats_laid(scene, area) if one.order > 0]
    laid_orders = {one.order for one in laid}
    coats = [coat for coat in layers if coat.order > 0]
    if all(coat.existing is not None or coat.order in laid_orders for coat in coats) and coats:
        sources = (*sources_of(coats), *(source for one in laid for source in one.sources))
        return found(NO, "all coats were laid in this work", sources)
    return silent("the record does not say which coats were there before", sources_of(layers))


def multiple_old_layers(scene: Scene) -> Finding:
    """Return whether the film has many aged layers, by their count or thickness."""
    settled = scene.settings.said("many_layers", "thick_old_um")
    counted = [r for r in scene.lab("layer_count") if r.value.value is not None]
    layers = scene.system()
    old = old_layers(layers)
    kept = [coat for coat in layers if coat.order in old and coat.order > 0]
    new = sum(coat.order > 0 and coat.order not in old for coat in layers)
    if counted and (kept or any(coat.order == 0 and coat.order in old for coat in layers)):
        aged = max(row.value.value or 0 for row in counted) - new
        value = YES if aged > scene.settings.many_layers else NO
        words = f"{aged:g} aged layers were counted"
        return found(value, words, sources_of(counted), settled_by=settled)
    if kept:
        thick = sum(v for coat in kept if (v := number(coat.dft_nominal, "um")) is not None)
        many = len(kept) > scene.settings.many_layers or thick > scene.settings.thick_old_um
        words = f"{len(kept)} older layers are recorded"
        return found(YES if many else NO, words, sources_of(kept), settled_by=settled)
    if existing_old_coating_retained(scene).value == NO:
        return found(NO, "there is no older coating", sources_of(layers))
    return silent("older layers were not counted", scene.sources)


def existing_bituminous_or_plasticised_below(scene: Scene) -> Finding:
    """Return whether bitumen or tar lies beneath, from the layers of the system."""
    layers = scene.system()
    if not layers:
        return silent("the layers of the system are not recorded", scene.sources)
    tar = [c for c in layers[:-1] if c.material in (*_BLEEDS, Chemistry.BITUMINOUS)]
    tar = [c for c in tar if c.order == 0 or c.order < layers[-1].order]
    if tar:
        return found(YES, "a bituminous layer lies beneath", sources_of(tar))
    return silent(
        "the layers recorded hold no bitumen; what lies beside or below them is not recorded",
        sources_of(layers),
    )


_PAIRS: tuple[tuple[frozenset[str], frozenset[str], str], ...] = (
    (
        frozenset({Substrate.GALVANISED_STEEL, Substrate.ZINC_METAL_SPRAY,
                   Chemistry.ZINC_SILICATE, Chemistry.ZINC_RICH_EPOXY}),
        frozenset({Chemistry.ALKYD, Chemistry.SILICONE_ALKYD}),
        "an oil-modified binder stands directly on zinc",
    ),
    (
        frozenset({Substrate.CONCRETE, Substrate.MASONRY_RENDER}),
        frozenset({Chemistry.ALKYD, Chemistry.SILICONE_ALKYD}),
        "an oil-modified binder stands directly on an alkaline substrate",
    ),
    (
        frozenset({Substrate.BITUMINOUS, Chemistry.BITUMINOUS}),
        frozenset({Chemistry.EPOXY, Chemistry.EPOXY_NOVOLAC, Chemistry.POLYURETHANE_ALIPHATIC,
                   Chemistry.POLYURETHANE_AROMATIC, Chemistry.ALKYD}),
        "a hard or solvent-borne coat stands on bitumen",
    ),
    (
        frozenset({Chemistry.ALKYD, Chemistry.SILICONE_ALKYD}),
        frozenset({Chemistry.EPOXY, Chemistry.POLYURETHANE_ALIPHATIC,
                   Chemistry.POLYURETHANE_AROMATIC, Chemistry.CHLORINATED_RUBBER_VINYL,
                   Chemistry.VINYL_ESTER}),
        "a coat with strong solvents stands on an oil-modified one",
    ),
)  # fmt: skip


def system_incompatibility_flagged(scene: Scene) -> Finding:
    """Return whether two layers that meet are advised against (zinc and oil, hard on soft …)."""
    for layers in scene.systems:
        for lower, upper in pairwise(layers):
            for below, above, words in _PAIRS:
                if lower.material in below and upper.material in above:
                    return found(YES, words, (lower.source, upper.source))
    return silent("no pairing that is generally advised against is in the layers recorded; "
                  "whether the makers confirm it is not recorded", scene.sources)  # fmt: skip


def mixing_record_deficient(scene: Scene) -> Finding:
    """Return whether there is no mixing record: "never existed" is a fact, a blank is unknown."""
    papers = [d for d in scene.dossier.all(Document) if d.kind is DocumentKind.MIX_RECORD]
    if any(d.status is DocumentStatus.RECEIVED for d in papers):
        return silent("the mixing record was received; what it says must be answered",
                      sources_of(papers))  # fmt: skip
    never = [d for d in papers if d.status is DocumentStatus.NEVER_EXISTED]
    if never:
        return found(YES, "no mixing record was ever kept", sources_of(never))
    return silent("the mixing record has not been received", sources_of(papers) or scene.sources)


def moisture_untested_or_over_at_application(scene: Scene) -> Finding:
    """Return whether moisture before coating was over the limit, or never tested."""
    base = scene.coat(next(iter(scene.areas), None), 0)
    if base is None or base.material not in ABSORBING:
        return silent("the substrate is not one that holds moisture", scene.sources)
    before = [
        row
        for row in scene.dossier.all(Measurement)
        if row.quantity in ("moisture", "rh_in_slab", "emission")
        and taken_before_coating(scene, row)
    ]
    judged = [one for row in before if (one := judge(scene, row, above=True))]
    if judged:
        over = [one for one in judged if one.holds]
        words = f"{len(over)} of {len(judged)} readings before coating were over the limit"
        return found(YES if over else NO, words, [s for one in judged for s in one.sources])
    papers = [d for d in scene.dossier.all(Document) if d.kind is DocumentKind.MOISTURE_RECORD]
    never = [d for d in papers if d.status is DocumentStatus.NEVER_EXISTED]
    if never:
        return found(YES, "moisture was never tested before coating", sources_of(never))
    return silent("moisture before coating is not recorded", sources_of(papers) or scene.sources)


def taken_before_coating(scene: Scene, row: Measurement) -> bool:
    """Return whether a reading was taken before the first coat went on."""
    area = scene.dossier.area_of(row)
    if row.date is None or area is None:
        return False
    coats = [one for one in coats_laid(scene, area) if one.order > 0 and one.starts]
    starts = coats[0].starts if coats else None
    return starts is not None and row.date.start(scene.dossier.zone) < starts[0]


def galvanised_passivated_or_quenched(scene: Scene) -> Finding:
    """Return whether the zinc was passivated, by the spot tests for chromate."""
    rows = [
        row for side in (scene.failing, scene.sound, scene.control) for row in side.all(Measurement)
        if row.method == "f-chromate"
    ]  # fmt: skip
    yes = [row for row in rows if row.value.word in ("positive", "present", "yes")]
    no = [row for row in rows if row.value.word in ("negative", "none", "no")]
    if not yes and not no:
        return silent("no chromate spot test is recorded", scene.sources)
    value, held = (YES, yes) if len(yes) >= len(no) else (NO, no)
    words = f"{len(held)} of {len(rows)} chromate spot tests are "
    return found(value, words + ("positive" if value == YES else "negative"), sources_of(held))


RULES = named(
    existing_old_coating_retained,
    multiple_old_layers,
    existing_bituminous_or_plasticised_below,
    system_incompatibility_flagged,
    mixing_record_deficient,
    moisture_untested_or_over_at_application,
    galvanised_passivated_or_quenched,
)
