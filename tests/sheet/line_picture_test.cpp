// The line drawing: every point once, no text over another, strokes as thick as what they carry. Rules of our own;
// there is no published source for a layout.
#include "core/sheet/line_picture.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>

namespace tapwright::line_picture {
namespace {

struct Box {
    double left, top, right, bottom;
    std::string text;
};

std::vector<Box> boxes(const document::Drawing& drawing) {
    std::vector<Box> found;
    for (const auto& label : drawing.labels)
        found.push_back({label.x, label.y - 0.75 * label.size, label.x + estimated_width(label.text, label.size),
                         label.y + 0.25 * label.size, label.text});
    return found;
}

bool overlap(const Box& a, const Box& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

void check_drawing(const document::Drawing& drawing) {
    const auto all = boxes(drawing);
    for (std::size_t i = 0; i < all.size(); ++i) {
        CHECK(all[i].left >= 0);
        CHECK(all[i].right <= drawing.width);
        CHECK(all[i].bottom <= drawing.height);
        for (std::size_t k = 0; k < i; ++k)
            CHECK_MESSAGE(!overlap(all[i], all[k]), all[i].text << " lies over " << all[k].text);
    }
    for (const auto& stroke : drawing.strokes)
        for (const auto& [x, y] : stroke.path) {
            CHECK(x >= 0);
            CHECK(x <= drawing.width);
            CHECK(y >= 0);
            CHECK(y <= drawing.height);
        }
}

// An upright stroke that a text would lie on.
void check_lanes(const document::Drawing& drawing) {
    for (const auto& stroke : drawing.strokes)
        for (std::size_t i = 1; i < stroke.path.size(); ++i) {
            const auto& a = stroke.path[i - 1];
            const auto& b = stroke.path[i];
            if (a[0] != b[0] || std::abs(a[1] - b[1]) < 20) continue;
            const Box lane{a[0] - stroke.width / 2, std::min(a[1], b[1]), a[0] + stroke.width / 2, std::max(a[1], b[1]),
                           "a stroke"};
            for (const Box& box : boxes(drawing)) CHECK_MESSAGE(!overlap(lane, box), box.text << " lies on an upright");
        }
}

std::size_t count_of(const std::vector<document::Drawing>& drawings, const std::string& text) {
    std::size_t count = 0;
    for (const auto& drawing : drawings)
        for (const auto& label : drawing.labels) count += label.text == text;
    return count;
}

Node node(std::string name, std::uint32_t feed = from_the_amplifier) {
    Node made;
    made.feed = feed;
    made.symbol = Symbol::speaker;
    made.name = std::move(name);
    made.remarks = {"5 W", "−0.1 dB"};
    made.run = "12.5 m";
    made.watts = 5;
    return made;
}

std::vector<Node> random_tree(unsigned seed, std::size_t size) {
    std::mt19937 chance(seed);
    std::vector<Node> nodes;
    for (std::uint32_t i = 0; i < size; ++i) {
        const bool root = i == 0 || chance() % 20 == 0;
        // Mostly the last one, so that rows get long; sometimes any, so that there are branches.
        Node made = node("C-" + std::to_string(i), root                ? from_the_amplifier
                                                   : chance() % 4 == 0 ? static_cast<std::uint32_t>(chance() % i)
                                                                       : i - 1);
        if (chance() % 6 == 0) made.symbol = Symbol::attenuator;
        made.at_input = !root && nodes[made.feed].symbol == Symbol::attenuator && chance() % 2 == 0;
        if (chance() % 9 == 0) made.run = "a run with a very long description of where it goes";
        if (chance() % 3 == 0) made.remarks = {"a remark that is far too long for its column", "−12.25 dB and more"};
        made.watts = static_cast<double>(chance() % 100);
        nodes.push_back(std::move(made));
    }
    return nodes;
}

}  // namespace

TEST_CASE("nothing to draw gives no drawing") {
    CHECK(draw({"Foyer", {}, 0}, {}).empty());
}

TEST_CASE("a chain runs from the amplifier on the left to the last loudspeaker on the right") {
    std::vector<Node> nodes = {node("C-1"), node("C-2", 0), node("C-3", 1)};
    const auto drawings = draw({"Foyer", {"1A"}, 15}, nodes);
    REQUIRE(drawings.size() == 1);
    const auto& labels = drawings[0].labels;
    const auto x_of = [&](const std::string& text) {
        const auto at = std::find_if(labels.begin(), labels.end(), [&](const auto& l) { return l.text == text; });
        REQUIRE(at != labels.end());
        return at->x;
    };
    CHECK(x_of("Foyer") < x_of("C-1"));
    CHECK(x_of("C-1") < x_of("C-2"));
    CHECK(x_of("C-2") < x_of("C-3"));
}

TEST_CASE("strokes are as thick as the watts they carry") {
    std::vector<Node> nodes = {node("C-1"), node("C-2", 0)};
    nodes[0].watts = 100;
    nodes[1].watts = 40;
    const auto drawings = draw({"Foyer", {}, 100}, nodes);
    REQUIRE(drawings.size() == 1);
    double thickest = 0;
    double second = 0;
    for (const auto& stroke : drawings[0].strokes) {
        if (stroke.path.size() != 2 || stroke.dashed) continue;
        if (stroke.width > thickest) {
            second = thickest;
            thickest = stroke.width;
        } else {
            second = std::max(second, stroke.width);
        }
    }
    CHECK(second == doctest::Approx(thickest * 0.4));
}

TEST_CASE("a row of wall controls looped through at their inputs stands as a riser in one column") {
    std::vector<Node> nodes = {node("V-1"), node("C-1", 0), node("V-2", 0), node("V-3", 2)};
    for (const std::size_t i : {0U, 2U, 3U}) nodes[i].symbol = Symbol::attenuator;
    nodes[2].at_input = nodes[3].at_input = true;
    const auto drawings = draw({"Classrooms", {}, 20}, nodes);
    REQUIRE(drawings.size() == 1);
    std::vector<double> columns;
    for (const auto& label : drawings[0].labels)
        if (label.text.starts_with("V-")) columns.push_back(label.x);
    REQUIRE(columns.size() == 3);
    CHECK(columns[0] == columns[1]);
    CHECK(columns[1] == columns[2]);
    check_drawing(drawings[0]);
    check_lanes(drawings[0]);
}

TEST_CASE("every point of any tree is drawn once, and no text lies on another or on an upright") {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        const auto nodes = random_tree(seed, 1 + seed * 3);
        const auto drawings = draw({"A zone with a rather long name", {"terminal 1A +/−", "118 Ω / 121 Ω"}, 99}, nodes);
        for (const Node& drawn : nodes) CHECK(count_of(drawings, drawn.name) == 1);
        for (const auto& drawing : drawings) {
            check_drawing(drawing);
            check_lanes(drawing);
        }
    }
}

TEST_CASE("a large line is wrapped into rows and figures, and each continues by name") {
    std::vector<Node> nodes = {node("C-0")};
    for (std::uint32_t i = 1; i < 300; ++i) nodes.push_back(node("C-" + std::to_string(i), i - 1));
    const auto drawings = draw({"Hall", {}, 1500}, nodes);
    CHECK(drawings.size() > 1);
    CHECK(count_of(drawings, "from C-5") == 1);
    for (const Node& drawn : nodes) CHECK(count_of(drawings, drawn.name) == 1);
    for (const auto& drawing : drawings) CHECK(drawing.height <= 640);
}

TEST_CASE("one splice that feeds hundreds, and a chain of thousands, are drawn too") {
    std::vector<Node> star = {node("J-1")};
    for (std::uint32_t i = 0; i < 400; ++i) star.push_back(node("C-" + std::to_string(i), 0));
    const auto drawings = draw({"Hall", {}, 2000}, star);
    for (const Node& drawn : star) CHECK(count_of(drawings, drawn.name) == 1);

    std::vector<Node> risers = {node("V-0")};
    risers[0].symbol = Symbol::attenuator;
    for (std::uint32_t i = 1; i < 5000; ++i) {
        risers.push_back(node("V-" + std::to_string(i), i - 1));
        risers.back().symbol = Symbol::attenuator;
        risers.back().at_input = true;
    }
    std::size_t names = 0;
    for (const auto& drawing : draw({"Hall", {}, 2000}, risers))
        names += static_cast<std::size_t>(std::count_if(drawing.labels.begin(), drawing.labels.end(),
                                                        [](const auto& l) { return l.text.starts_with("V-"); }));
    CHECK(names == 5000);
}

TEST_CASE("what goes on in other figures costs a figure one stroke, however much it is") {
    for (const bool at_input : {false, true}) {
        std::vector<Node> nodes{node("V")};
        nodes[0].symbol = Symbol::attenuator;
        for (std::uint32_t i = 0; i < 3000; ++i) {
            nodes.push_back(node("C-" + std::to_string(i), 0));
            nodes.back().at_input = at_input;
        }
        std::size_t strokes = 0;
        for (const auto& drawing : draw({"A", {}, 10}, nodes)) strokes += drawing.strokes.size();
        // At most a run and a symbol of two strokes for each point, and three more for each of the figures.
        CHECK(strokes < 3 * nodes.size());
    }
}

TEST_CASE("a text is cut to its width with an ellipsis, never inside a character") {
    CHECK(fitted("C-101", 60, 8) == "C-101");
    const std::string cut = fitted("大会議室カフェ回廊", 30, 8);
    CHECK(cut.ends_with("…"));
    CHECK(cut.size() % 3 == 0);  // each of these characters has three bytes
    CHECK(estimated_width(cut, 8) <= 30);
    CHECK(fitted("a\nb", 60, 8) == "a b");
}

}  // namespace tapwright::line_picture
