#include <doctest/doctest.h>

#include <cmath>

#include "tests/ui/widgets/visit.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

std::vector<ui::LoadBlock> blocks_of(std::initializer_list<double> watts) {
    std::vector<ui::LoadBlock> blocks;
    for (double each : watts) blocks.push_back({std::to_string(blocks.size()), Message(), each});
    return blocks;
}

// The line drawing alone on a page, with as many points as a test wants.
class Paper : public ui::Program {
public:
    explicit Paper(int count) : data(line_of(count)) {}
    void draw(ui::Context& context) override {
        ImGui::SetNextWindowPos({0, 0});
        ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
        ImGui::Begin("paper", nullptr, ImGuiWindowFlags_NoDecoration);
        touch = ui::line_drawing(context, "line", data, view, ImGui::GetContentRegionAvail().y);
        if (touch.tapped >= 0) data.selected = touch.tapped;
        ImGui::End();
    }
    void settle(ui::Requests&) override {}
    void file_chosen(ui::FilePurpose, const std::string&) override {}
    void files_dropped(const std::vector<std::string>&) override {}
    std::string window_title() override { return "paper"; }
    ui::LineDrawingData data;
    ui::LineView view;
    ui::LineTouch touch;
};

}  // namespace

TEST_CASE("a load strip's blocks are as wide as their watts and lie side by side") {
    const auto blocks = blocks_of({10, 5, 2.5, 22.5});
    const ui::LoadStripLayout layout = ui::lay_out_load_strip(blocks, 100, 20, 400);
    REQUIRE(layout.blocks.size() == 4);
    float end = 0;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        CHECK(layout.blocks[i].left == doctest::Approx(end));
        CHECK(layout.blocks[i].width() == doctest::Approx(blocks[i].watts / 100 * 400));
        end = layout.blocks[i].right;
    }
    CHECK(layout.load_end == doctest::Approx(160));  // 40 W of 100 W
    CHECK(layout.limit == doctest::Approx(400));
    CHECK(layout.reserve.left == doctest::Approx(320));  // 20 % of 100 W kept free
    CHECK(layout.reserve.right == doctest::Approx(400));
    CHECK_FALSE(layout.over);
}

TEST_CASE("a load strip over its limit still shows everything, with the limit inside") {
    const ui::LoadStripLayout layout = ui::lay_out_load_strip(blocks_of({60, 65}), 100, 20, 500);
    CHECK(layout.over);
    CHECK(layout.blocks[1].right == doctest::Approx(500));
    CHECK(layout.limit == doctest::Approx(400));
    CHECK(layout.reserve.left == doctest::Approx(320));
}

TEST_CASE("a load strip without a limit fills its width with what is known") {
    const ui::LoadStripLayout layout = ui::lay_out_load_strip(blocks_of({5, 15}), 0, 0, 200);
    CHECK_FALSE(layout.over);
    CHECK(layout.blocks[1].right == doctest::Approx(200));
    CHECK(layout.reserve.width() == doctest::Approx(0));
    const ui::LoadStripLayout empty = ui::lay_out_load_strip({}, 0, 0, 200);
    CHECK(empty.load_end == doctest::Approx(0));
}

TEST_CASE("the strip is drawn as it is laid out, and a touch finds the block under the finger") {
    for (float scale : {1.0F, 1.5F}) {
        Visit visit(ui::PlaceId::rooms, {1280, 844, scale});
        const float per_watt = (360 - 32) * scale / 100;  // of the third pane; the margin is 16 at both sides
        const ui::Mark first = visit.person.mark("strip.block.L-100"), last = visit.person.mark("strip.block.L-105");
        CHECK(std::abs(first.area.width - 10 * per_watt) <= 1.01F);
        CHECK(std::abs(last.area.width - 15 * per_watt) <= 1.01F);
        visit.person.tap_at(last.area.x + last.area.width / 2, last.area.y + last.area.height / 2);
        CHECK(visit.log.strip_block == 5);
        CHECK(visit.person.text("strip.headroom") == "17.5 W left");
    }
}

TEST_CASE("a chart holds every point and its band") {
    ui::ChartData data;
    data.points = {{0, 0}, {10, -0.5}, {30, -1.4}};
    data.has_band = true;
    data.band_low = data.band_high = -2;
    const ui::Area plot{40, 10, 300, 200};
    const ui::ChartLayout layout = ui::lay_out_chart(data, plot);
    for (const ui::ChartPoint& point : data.points) {
        CHECK(layout.x_of(point.x) >= plot.x - 0.01F);
        CHECK(layout.x_of(point.x) <= plot.x + plot.width + 0.01F);
        CHECK(layout.y_of(point.y) >= plot.y);
        CHECK(layout.y_of(point.y) <= plot.y + plot.height);
    }
    CHECK(layout.y_of(-2) < plot.y + plot.height);
    CHECK(layout.y_of(0) < layout.y_of(-1));  // louder is higher
    // Distances on paper are in the ratio of distances on the line.
    CHECK(layout.x_of(10) - layout.x_of(0) == doctest::Approx((layout.x_of(30) - layout.x_of(0)) / 3));
}

TEST_CASE("a chart of one point or none has a scale all the same") {
    ui::ChartData data;
    const ui::ChartLayout empty = ui::lay_out_chart(data, {0, 0, 100, 100});
    CHECK(empty.y_greatest > empty.y_least);
    data.points = {{5, 83.3}};
    const ui::ChartLayout one = ui::lay_out_chart(data, {0, 0, 100, 100});
    CHECK(one.x_of(5) == doctest::Approx(50));
    CHECK(one.y_of(83.3) == doctest::Approx(50));
}

TEST_CASE("a stroke is as thick as the watts it carries") {
    CHECK(ui::stroke_units(0, 100) == doctest::Approx(2));
    CHECK(ui::stroke_units(100, 100) == doctest::Approx(12));
    CHECK(ui::stroke_units(50, 100) == doctest::Approx(7));
    CHECK(ui::stroke_units(5, 0) == doctest::Approx(2));
}

TEST_CASE("a thousand points are readable at every zoom: nothing is written over") {
    for (const Screen& screen : {Screen{390, 844, 1}, Screen{1280, 800, 2}}) {
        Paper paper(1000);
        Person person(paper, screen, regular_face(), semibold_face());
        for (float zoom : {1.0F, 0.6F, 0.3F, 0.1F, 0.03F}) {
            CAPTURE(zoom);
            paper.view.zoom = zoom;
            paper.data.selected = zoom < 0.5F ? 3 : -1;
            person.settle();
            for (const std::string& fault : overlapping_texts(*person.toolkit)) FAIL_CHECK(fault);
            for (const std::string& fault : cut_texts(*person.toolkit)) FAIL_CHECK(fault);
            CHECK(person.toolkit->marks().texts().size() > 8);
        }
        paper.view.fit_next = true;
        person.settle();
        const float whole = 56 * screen.scale * paper.view.zoom * 1001;
        CHECK(whole <= screen.height * screen.scale * 1.02F);
    }
}

TEST_CASE("points are as large as a finger, and the keyboard walks along the line") {
    Paper paper(30);
    Person person(paper, {390, 844, 1}, regular_face(), semibold_face());
    CHECK(person.mark("line.point.p3").area.height >= 44);
    person.tap("line.point.p3");
    CHECK(paper.data.selected == 3);
    for (int i = 0; i < 5 && paper.data.selected == 3; ++i) {
        person.press(ImGuiKey_Tab);
        person.press(ImGuiKey_DownArrow);
    }
    CHECK(paper.data.selected == 4);
    person.press(ImGuiKey_DownArrow);
    person.press(ImGuiKey_DownArrow);
    CHECK(paper.view.layout.points[static_cast<std::size_t>(paper.data.selected)].row ==
          paper.view.layout.points[4].row + 2);
    person.press(ImGuiKey_UpArrow);
    CHECK(paper.view.layout.points[static_cast<std::size_t>(paper.data.selected)].row ==
          paper.view.layout.points[4].row + 1);
    person.tap("line.in");
    CHECK(paper.view.zoom > 1.3F);
    person.tap("line.fit");
    CHECK(paper.view.zoom < 1);
}
