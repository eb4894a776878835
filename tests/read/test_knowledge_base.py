"""Tests of reading a folder: what arrives, in which order, and what is said about files rather than their contents."""

from __future__ import annotations

from pathlib import Path

from generator.problems import Place
from generator.read.knowledge_base import read_files, read_folder
from generator.read.records import KnowledgeBase
from generator.read.yaml_nodes import MOST_BYTES, Mapping
from tests.read.small_data import SMALL_DATA, TESTS, changed, small_files


def _read(files: dict[str, bytes]) -> KnowledgeBase:
    base, problems = read_files(files)
    assert base is not None, "\n".join(map(str, problems))
    return base


def test_small_data_is_read_without_a_problem_when_nothing_is_wrong():
    base, problems = read_folder(SMALL_DATA, TESTS)
    assert problems == []
    assert [str(one.id) for one in base.tables] == ["liner_chemistry", "liner_temperature", "liner_vacuum",
                                                    "size_velocity"]


def test_places_name_file_line_and_column_relative_to_the_root():
    base, _ = read_folder(SMALL_DATA, TESTS)
    rule = next(one for one in base.tables if one.id.text == "liner_temperature").rules[1]
    assert rule.when[1].test.place == Place("small_data/tables/liner_temperature.yml", 16, 52)
    assert rule.place == Place("small_data/tables/liner_temperature.yml", 15, 5)


def test_candidates_stand_in_the_committees_order_whatever_the_names_of_their_files():
    base = _read(changed("catalogues/liners/pfa.yml", "order: 10", "order: 100.5"))
    liners = next(one for one in base.catalogues if one.id.text == "liners")
    assert [str(item.id) for item in liners.items] == ["soft_rubber", "pfa"]


def test_scalars_stay_text_as_typed_when_yaml_would_convert_them():
    base = _read(changed("guide.yml", "edition: 1 of the tests", "edition: 1_0"))
    assert base.edition.edition.text == "1_0"
    base = _read(changed("guide.yml", "edition: 1 of the tests", "edition: 1:30"))
    assert base.edition.edition.text == "1:30"
    assert [(one.measuring.text, one.measuring.quoted) for one in base.states] == [("yes", False),
                                                                                   ("no", False)]


def test_conditions_keep_lists_flags_and_negation_apart():
    cells = {str(cell.column): cell for cell in next(one for one in _read(small_files()).tables
                                                     if one.id.text == "liner_vacuum").rules[0].when}
    assert cells["liner"].test.text == "with fluoropolymer" and cells["liner"].items is None
    assert [str(word) for word in cells["vacuum"].items] == ["yes"] and not cells["vacuum"].negated
    assert [str(word) for word in cells["service"].items] == ["slurry"] and cells["service"].negated


def test_usual_service_is_a_word_of_the_mediums_item():
    seawater = next(one for one in _read(small_files()).media if one.item.id.text == "seawater")
    assert [(str(name), str(value)) for name, value in seawater.item.words] == [("usual_service", "clean")]
    assert [str(word) for word in seawater.conductivity] == ["30000", "60000"]


def test_application_of_a_case_stays_raw_nodes_for_another_room():
    case = _read(small_files()).cases[0]
    states = {str(name): node for name, node in case.application}
    assert list(states) == ["normal", "cleaning"]
    assert isinstance(states["cleaning"], Mapping)


def test_files_of_editors_and_overlays_are_passed_over():
    extra = {".hidden.yml": b"\xff", "media/.seawater.yml.swp": b"\xff", "guide.yml~": b"",
             "README.md": b"# Data",
             "overlays/works/tables/x.yml": b"a: [", "media/README.md": b""}
    assert read_files(small_files() | extra)[1] == []


def test_file_over_the_limit_is_refused_and_the_others_are_read():
    files = changed("states.yml", "measuring: no", "measuring: NO") | {"waivers.yml": b"#" * (MOST_BYTES + 1)}
    assert [(one.place.file, one.code) for one in read_files(files)[1]] == [("data/states.yml", "L009"),
                                                                            ("data/waivers.yml", "Y011")]


def test_file_that_cannot_be_opened_is_a_problem_and_not_an_error(tmp_path: Path):
    for name, data in small_files().items():
        (tmp_path / "data" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "data" / name).write_bytes(data)
    (tmp_path / "data" / "media" / "gone.yml").symlink_to(tmp_path / "nowhere.yml")
    base, problems = read_folder(tmp_path / "data", tmp_path)
    assert base is None
    assert [str(one)
            for one in problems] == ["data/media/gone.yml: Y014: the file cannot be opened (No such file or directory); "
                                              "fix: make it readable, or delete it"]


def test_folder_that_does_not_exist_names_the_files_that_are_missing(tmp_path: Path):
    base, problems = read_folder(tmp_path / "data", tmp_path)
    assert base is None
    assert {one.code for one in problems} == {"L002"} and len(problems) == 10


def test_all_faults_of_a_run_are_said_when_they_stand_in_several_files_and_stages():
    files = (changed("states.yml", "measuring: no", "measuring: NO")
             | {"media/brine.yml": b"a: [", "cautions.yml": b"[]\n---\n[]\n"}
             | {"tables/liner_vacuum.yml": small_files()["tables/liner_vacuum.yml"].replace(b"with fluoro",
                                                                                            b"with floro")})
    assert [one.code for one in read_files(files)[1]] == ["Y009", "Y002", "L009", "X003"]


def test_names_of_a_kind_are_never_called_unknown_when_one_of_its_files_cannot_be_read():
    files = small_files() | {"catalogues/liners/pfa.yml": b"id: [pfa"}
    assert [one.code for one in read_files(files)[1]] == ["Y002"]


def test_problems_come_in_order_of_place_whatever_the_order_of_the_files():
    files = small_files() | {"media/brine.yml": b"", "cases/a.yml": b"", "zzz.yml": b""}
    backwards = dict(reversed(list(files.items())))
    assert read_files(files)[1] == read_files(backwards)[1] == sorted(read_files(files)[1])
