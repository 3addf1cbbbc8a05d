// The demo in hand of somebody who looks for a fault.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "core/faults/next_measurement.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/places.h"

namespace fault_page {

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

inline bool tells(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

inline void touch(Person& person, const std::string& mark) {
    person.find(mark);
    person.tap(mark);
}

inline void enter_on_pad(Person& person, std::string_view figure) {
    for (const char key : figure) person.tap(std::string("pad.") + (key == '.' ? "point" : std::string(1, key)));
    person.tap("pad.keep");
}

inline std::string as_typed(double figure) {
    char text[32];
    std::snprintf(text, sizeof text, "%.4g", figure);
    return text;
}

struct Site : Desk {
    explicit Site(PlaceId place = PlaceId::readings) : Desk(Start::demo, {}, place) {}

    void make(const ChangeList& changes) {
        const auto made = session->request(test::command(changes), {"Ada Quill", {}}, clock.next());
        REQUIRE_MESSAGE(made.ok(), (made ? "" : in_english(made.refusal().message)));
        person->settle();
    }
    // As if nobody had walked through with the music on.
    void unhear() {
        ChangeList changes;
        for (const Point& point : job().all<Point>())
            if (point.heard) changes.push_back(test::set(Kind::point, point.id.text(), {{"heard", Value()}}));
        for (const Snag& snag : job().all<Snag>()) changes.push_back({ChangeOp::remove, Kind::snag, snag.id, {}});
        make(changes);
    }
    // As if everybody had left out one loudspeaker alone.
    void hear_all_but(const std::string& left_out) {
        ChangeList changes;
        for (const Point& point : job().all<Point>())
            if (point.kind == PointKind::speaker && point.label != left_out)
                changes.push_back(test::set(Kind::point, point.id.text(), {{"heard", "ok"}}));
        make(changes);
    }
    // Whatever is in a row of causes, bars and keys.
    std::string all_said() const {
        std::string said;
        for (const ui::Mark& mark : person->toolkit->marks().all())
            if (mark.name.starts_with("fault.")) said += mark.text + "\n";
        return said;
    }
};

inline Diagnosis diagnosed(const Desk& desk, const Id& zone) {
    FaultQuestion question;
    question.zone = zone;
    Result<Diagnosis> diagnosis = Diagnosis::of(desk.job(), desk.derived(), question);
    REQUIRE(diagnosis.ok());
    return std::move(*diagnosis);
}

inline std::vector<Measurement> next_of(const Desk& desk, const Diagnosis& diagnosis) {
    NextMeasurement search(desk.job(), diagnosis, {});
    while (search.step()) {
    }
    return search.best();
}

}  // namespace fault_page
