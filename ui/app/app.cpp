#include "ui/app/app.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/job/field_text.h"
#include "core/session/session.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr float side_units = 196, side_margin = 12, beside_units = 360, list_share = 0.44F;

// Of the list of places: as wide as its words need in any language.
float side_width(Context& context) {
    return std::max(context.px(side_units), place_list_width(context) + 2 * context.px(side_margin));
}
constexpr float header_top = 4, foot_units = 68;
constexpr float notices_share = 0.4F;  // of the window's height, at most

// A part of the window with its own margins that does not scroll.
class Band {
public:
    Band(Context& context, const char* name, float width, float height, Colour ground, float side, float top)
        : context_(context), is_fitted_(height <= 0) {
        ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(context.px(side), context.px(top)));
        ImGui::PushStyleColor(ImGuiCol_ChildBg, ink(ground));
        ImGui::BeginChild(
            name, ImVec2(width, height),
            ImGuiChildFlags_AlwaysUseWindowPadding | ImGuiChildFlags_NavFlattened |
                (height <= 0 ? ImGuiChildFlags_AutoResizeY : 0),
            ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
        ImGui::PopStyleColor();
        ImGui::PopStyleVar();
    }
    // A band as high as what is in it learns its height only by being drawn: one more frame where that has changed.
    ~Band() {
        const ImGuiWindow* window = ImGui::GetCurrentWindow();
        const float wanted = window->DC.CursorMaxPos.y - window->Pos.y + window->WindowPadding.y;
        const bool fits = !is_fitted_ || std::abs(wanted - window->Size.y) < 1;
        ImGui::EndChild();
        if (!fits) context_.requests.another_frame();
    }
    Band(const Band&) = delete;
    Band& operator=(const Band&) = delete;

private:
    Context& context_;
    bool is_fitted_;
};

bool is_typing() {
    return ImGui::GetActiveID() != 0 && ImGui::GetInputTextState(ImGui::GetActiveID()) != nullptr;
}

// A line at the right edge of the pane being drawn.
void edge_line(const Context& context, float x, float height) {
    ImGui::GetWindowDrawList()->AddLine(ImVec2(x, 0), ImVec2(x, height), ink(context.theme.line),
                                        std::max(1.0F, std::floor(context.scale)));
}

void begin_root(const Context& context) {
    ImGui::SetNextWindowPos(ImVec2(0, 0));
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, ink(context.theme.page));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    ImGui::Begin("##window", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
}

}  // namespace

App::App(Host& host, AppParts parts) : host_(host), parts_(std::move(parts)) {}

void App::set_session(Session* session) {
    session_ = session;
    for (Stack& each : stacks_) each.clear();
    opening_.clear();
    kept_.clear();
    messages_.clear();
    refused_ = {};
}

App::Stack& App::stack() {
    if (!session_ && parts_.opening) {
        if (opening_.empty()) opening_.push_back({parts_.opening()});
        return opening_;
    }
    Stack& stack = stacks_[static_cast<std::size_t>(place_)];
    if (stack.empty()) stack.push_back({parts_.root(place_)});
    return stack;
}

std::size_t App::depth() const {
    if (!session_ && parts_.opening) return opening_.size();
    return stacks_[static_cast<std::size_t>(place_)].size();
}

void App::say(Tone tone, Message sentence) {
    const auto is_error = [](Tone each) { return each == Tone::stop || each == Tone::warning; };
    const auto gives_way = [&](const Notice& message) { return is_error(message.tone) == is_error(tone); };
    messages_.erase(std::remove_if(messages_.begin(), messages_.end(), gives_way), messages_.end());
    messages_.push_back({tone, std::move(sentence), turn_});
}

void App::shortcuts(Context& context) {
    Requests& requests = context.requests;
    const bool over_page = ImGui::GetTopMostPopupModal() == nullptr;
    if (!over_page) return;
    const bool has_job = session_ || !parts_.opening;
    for (int i = 0; i < place_count && has_job; ++i)
        if (ImGui::IsKeyChordPressed(ImGuiMod_Alt | static_cast<ImGuiKey>(ImGuiKey_1 + i)))
            requests.show(static_cast<PlaceId>(i));
    if (ImGui::IsKeyChordPressed(ImGuiMod_Alt | ImGuiKey_LeftArrow)) requests.back();
    if (ImGui::IsKeyChordPressed(ImGuiMod_Ctrl | ImGuiKey_F) && parts_.find && has_job) requests.open(parts_.find());
    if (is_typing()) return;
    if (ImGui::IsKeyPressed(ImGuiKey_Escape, false)) requests.back();
    if (ImGui::IsKeyChordPressed(ImGuiMod_Ctrl | ImGuiKey_Z)) requests.undo();
    if (ImGui::IsKeyChordPressed(ImGuiMod_Ctrl | ImGuiKey_Y)) requests.redo();
    if (ImGui::IsKeyChordPressed(ImGuiMod_Ctrl | ImGuiMod_Shift | ImGuiKey_Z)) requests.redo();
}

void App::draw(Context& context) {
    context.session = session_;
    if (session_) context.words = context.words.in(length_units(session_->job()));
    words_ = context.words;
    press_ = context.gesture.presses();
    shortcuts(context);
    begin_root(context);
    const float width = ImGui::GetIO().DisplaySize.x, most = ImGui::GetIO().DisplaySize.y * notices_share;
    while (messages_.size() > 1 && notices_height(context, width) > most) messages_.erase(messages_.begin());
    if (context.wide)
        draw_wide(context);
    else
        draw_portrait(context);
    ImGui::End();
}

float App::draw_pane(Context& context, const Pane& pane, Screen& screen) {
    const float top = ImGui::GetCursorPosY();
    {
        std::vector<HeaderAction> actions;
        if (pane.with_actions && parts_.find && session_)
            actions.push_back({"app.find", Message("Find"), Shape::search, true});
        if (pane.with_actions && parts_.undo && session_)
            actions.push_back({"app.undo", Message("Undo"), Shape::undo, true});
        const Message title = screen.title(context);
        const float room = width_left() - 2 * context.px(measure::margin);
        const float header = page_header_height(context, title, !pane.back_to.empty(), actions.size(), room);
        Band band(context, (pane.header + ".band").c_str(), 0, header + 2 * context.px(header_top), context.theme.page,
                  measure::margin, header_top);
        const HeaderTouch touch = page_header(context, pane.header, title, pane.back_to, actions);
        if (touch.back) context.requests.back();
        if (touch.action >= 0) {
            if (actions[static_cast<std::size_t>(touch.action)].name == "app.undo")
                context.requests.undo();
            else
                context.requests.open(parts_.find());
        }
    }
    if (pane.with_actions) draw_strip(context);
    const float foot = pane.with_foot && screen.has_foot(context) ? context.px(foot_units) : 0;
    const float left = pane.height - (ImGui::GetCursorPosY() - top) - foot;
    if (foot > 0) draw_foot(context, pane, screen, ImGui::GetCursorPosY() + left);
    float scroll = 0;
    {
        Page page(context, pane.page, std::max(1.0F, left), pane.scroll_to);
        screen.draw(context);
        scroll = ImGui::GetScrollY();
    }
    ImGui::SetCursorPosY(top + pane.height);
    return scroll;
}

// A page that comes to the front stands where it was left there, whatever it went through beside another one.
void App::draw_in_front(Context& context, Pane pane, Shown& shown) {
    if (in_front_.lock() != shown.screen) pane.scroll_to = shown.scroll;
    in_front_ = shown.screen;
    shown.scroll = draw_pane(context, pane, *shown.screen);
}

void App::draw_foot(Context& context, const Pane& pane, Screen& screen, float y) {
    const ImVec2 at = ImGui::GetCursorPos();
    ImGui::SetCursorPos(ImVec2(at.x, y));
    {
        Band band(context, (pane.header + ".foot").c_str(), 0, context.px(foot_units), context.theme.page,
                  measure::margin, 6);
        context.in_foot = true;
        screen.draw_foot(context);
        context.in_foot = false;
    }
    ImGui::SetCursorPos(at);
}

void App::draw_strip(Context& context) {
    if (!parts_.strip || (parts_.strip_shown && !parts_.strip_shown(context))) return;
    Band band(context, "strip", 0, 0, context.theme.card, measure::margin, 8);
    parts_.strip->draw(context);
}

void App::draw_notices(Context& context) {
    if (messages_.empty() && kept_.empty()) return;
    Band band(context, "notices", 0, 0, context.theme.page, measure::margin, 6);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(context.px(measure::gap), context.px(measure::gap)));
    for (std::size_t i = 0; i < messages_.size(); ++i) {
        const std::string name = "message." + std::to_string(i);
        if (message_bar(context, name, messages_[i].tone, messages_[i].sentence))
            context.requests.after_frame([this, i] { messages_.erase(messages_.begin() + static_cast<long>(i)); });
    }
    if (!kept_.empty()) {
        const Kept& kept = kept_.front();
        const KeptEvent event = kept_bar(context, kept.time, kept.what, kept.action);
        if (event == KeptEvent::act && kept.action == KeptAction::undo) context.requests.undo();
        if (event == KeptEvent::act && kept.action == KeptAction::redo) context.requests.redo();
        if (event == KeptEvent::dismiss) context.requests.after_frame([this] { kept_.clear(); });
    }
    ImGui::PopStyleVar();
}

// What the notices will need, so that the page above them can be given the rest in the same frame.
float App::notices_height(Context& context, float width) {
    if (messages_.empty() && kept_.empty()) return 0;
    const float side = context.px(12), sign = context.px(32), key = context.px(measure::touch);
    const float inner = width - 2 * context.px(measure::margin), gap = context.px(measure::gap);
    float height = 2 * context.px(6);
    for (const Notice& message : messages_) {
        const float room = std::max(1.0F, inner - 2 * side - (message.tone == Tone::plain ? 0 : sign) - key);
        const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(message.sentence), room);
        height += std::max(context.px(56), lines.height + context.px(20)) + gap;
    }
    for (const Kept& kept : kept_) {
        const bool acts = kept.action != KeptAction::none;
        const std::string word = context.words.text(action_word(kept.action));
        const float act = acts ? context.px(28) + text_width(context, TextSize::strong, word) : 0;
        const float room = std::max(1.0F, inner - 2 * side - sign - act - key);
        const Lines heads = broken_into_lines(context, TextSize::strong, context.words.text(kept_at(kept.time)), room);
        const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(kept.what), room, 2);
        const float words = heads.height + (kept.what.empty() ? 0 : lines.height);
        height += std::max(context.px(56), words + context.px(14)) + gap;
    }
    return height - gap;
}

// What the scrolling pages of the place in hand begin with.
std::string App::page_name() const {
    std::string name = "page.";
    return name.append(place_key(place_)) + ".";
}

void App::draw_portrait(Context& context) {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    const bool has_places = session_ || !parts_.opening;
    const float bar = has_places ? place_bar_height(context, window.x) : 0;
    const float page = window.y - bar - notices_height(context, window.x);
    Stack& screens = stack();
    const Message back_to = screens.size() > 1 ? screens[screens.size() - 2].screen->title(context) : Message();
    const std::string name = page_name() + std::to_string(screens.size());
    draw_in_front(context, {"header", name, back_to, true, page}, screens.back());
    draw_notices(context);
    if (!has_places) return;
    ImGui::SetCursorPos(ImVec2(0, window.y - bar));
    Band band(context, "places", 0, bar, context.theme.card, 0, 0);
    const int place = place_bar(context, place_);
    if (place >= 0) context.requests.show(static_cast<PlaceId>(place));
}

void App::draw_side(Context& context) {
    Band band(context, "side", side_width(context), ImGui::GetIO().DisplaySize.y, context.theme.card, side_margin, 16);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, context.px(4)));
    const int place = place_list(context, place_);
    if (place >= 0) context.requests.show(static_cast<PlaceId>(place));
    space(context, 12);
    if (parts_.find && session_ && button(context, "app.find", Message("Find"), {.shape = Shape::search}))
        context.requests.open(parts_.find());
    if (parts_.undo && session_ && button(context, "app.undo", Message("Undo"), {.shape = Shape::undo}))
        context.requests.undo();
    ImGui::PopStyleVar();
}

void App::draw_wide(Context& context) {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    const bool has_places = session_ || !parts_.opening;
    if (has_places) draw_side(context);
    const float side = has_places ? side_width(context) : 0;
    float x = side;
    const bool beside = has_places && parts_.beside && (!parts_.beside_shown || parts_.beside_shown(context, place_));
    const float beside_width = beside ? context.px(beside_units) : 0;
    const float width = window.x - x - beside_width;
    const float height = window.y - notices_height(context, width);
    float top = 0;
    if (has_places && !beside) {  // always in sight: with no third pane to stand in, the strip goes above the page
        ImGui::SetCursorPos(ImVec2(x, 0));
        draw_strip(context);
        top = ImGui::GetCursorPosY();
    }
    Stack& screens = stack();
    const std::size_t count = screens.size();
    const std::string place = page_name();
    const auto pane = [&](std::size_t index, float pane_width) {
        ImGui::SetCursorPos(ImVec2(x, top));
        Band band(context, ("pane." + std::to_string(index)).c_str(), pane_width, height - top, context.theme.page, 0,
                  0);
        edge_line(context, x + pane_width - 1, height);
        const bool in_hand = index + 1 == count;
        const Message back_to = in_hand && index > 0 ? screens[index - 1].screen->title(context) : Message();
        const std::string page = place + std::to_string(index + 1);
        if (in_hand)
            draw_in_front(context, {"header", page, back_to, false, height - top}, screens[index]);
        else
            draw_pane(context, {"list", page, back_to, false, height - top, false}, *screens[index].screen);
        x += pane_width;
    };
    const float list = count > 1 ? std::floor(width * list_share) : width;
    if (count > 1) pane(count - 2, list);
    pane(count - 1, width - (count > 1 ? list : 0));
    if (beside) {
        ImGui::SetCursorPos(ImVec2(x, 0));
        Band band(context, "pane.beside", beside_width, window.y, context.theme.page, 0, 0);
        draw_strip(context);
        const float left = window.y - ImGui::GetCursorPosY();
        draw_pane(context, {"beside", "page.beside", Message(), false, left}, *parts_.beside);
    }
    ImGui::SetCursorPos(ImVec2(side, height));
    if (height < window.y) {
        Band band(context, "notices.wide", width, window.y - height, context.theme.page, 0, 0);
        draw_notices(context);
    }
}

void App::make(std::vector<Change>& changes) {
    for (Change& change : changes) {
        if (!session_) {
            say(Tone::stop, Message("No job is open, so nothing was saved: open a job or create one first."));
            return;
        }
        const Result<void> made = change.make(*session_);
        if (made.ok()) {
            kept_.assign(1, Kept{host_.time_of_day(), change.what, parts_.undo ? KeptAction::undo : KeptAction::none});
        } else if (change.refused_in_place) {
            refused_ = made.refusal().message;
            refused_at_press_ = press_;
        } else {
            say(Tone::stop, made.refusal().message);
        }
    }
}

void App::take_back(const std::function<Result<Message>(Session&)>& how, KeptAction next) {
    if (!session_ || !how) return;
    Result<Message> taken = how(*session_);
    if (taken.ok())
        kept_.assign(1, Kept{host_.time_of_day(), taken.value(), next});
    else
        say(Tone::note, taken.refusal().message);
}

// Errors belong to the page they came up on; those of this very turn are what the next page is about.
void App::leave_page() {
    const auto is_over = [&](const Notice& message) {
        return message.turn != turn_ && (message.tone == Tone::stop || message.tone == Tone::warning);
    };
    messages_.erase(std::remove_if(messages_.begin(), messages_.end(), is_over), messages_.end());
    if (!refused_.empty() && refused_at_press_ == press_) say(Tone::stop, refused_);
    refused_ = {};
}

void App::settle(Requests& requests) {
    ++turn_;
    const std::shared_ptr<Screen> before = stack().back().screen;
    // Changes first: what they point at belongs to screens that the requests below may put away.
    make(requests.changes);
    if (requests.undo_wanted) take_back(parts_.undo, parts_.redo ? KeptAction::redo : KeptAction::none);
    if (requests.redo_wanted) take_back(parts_.redo, parts_.undo ? KeptAction::undo : KeptAction::none);
    for (auto& [tone, sentence] : requests.messages) say(tone, std::move(sentence));
    std::vector<std::function<void()>> later = std::move(requests.later);
    for (const std::function<void()>& action : later) {
        Stack& screens = stack();
        if (action)
            action();
        else if (screens.size() > 1)
            screens.pop_back();
    }
    // The place in hand tapped again leads back to its first screen.
    if (requests.place_wanted >= 0) {
        const auto place = static_cast<PlaceId>(requests.place_wanted);
        if (place == place_ && stacks_[static_cast<std::size_t>(place)].size() > 1)
            stacks_[static_cast<std::size_t>(place)].resize(1);
        place_ = place;
        kept_.clear();  // said where it was kept; the history has it from now on
    }
    for (std::shared_ptr<Screen>& screen : requests.opened) stack().push_back({std::move(screen)});
    if (stack().back().screen != before) {
        const Stack& screens = stack();
        const auto is_before = [&](const Shown& shown) { return shown.screen == before; };
        if (std::none_of(screens.begin(), screens.end(), is_before))
            if (Message typed = before->on_the_way_out(); !typed.empty()) say(Tone::note, std::move(typed));
        leave_page();
    }
    constexpr int soon_ms = 40;
    if (parts_.after_frame && parts_.after_frame()) host_.wake_after(soon_ms);
}

void App::file_chosen(FilePurpose purpose, const std::string& path) {
    if (parts_.file_chosen) parts_.file_chosen(purpose, path);
}

void App::files_dropped(const std::vector<std::string>& paths) {
    if (parts_.files_dropped) parts_.files_dropped(paths);
}

std::string App::window_title() {
    return parts_.window_title ? words_.text(parts_.window_title()) : std::string("Tapwright");
}

}  // namespace tapwright::ui
