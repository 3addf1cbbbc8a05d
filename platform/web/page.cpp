#include "platform/web/page.h"

#include <emscripten.h>

#include <map>
#include <utility>

#include "core/job/json.h"

// What stands between the braces is JavaScript. Module is what page/worker.js handed to createApp().
// clang-format off
EM_JS(void, js_tell, (const char* kind, const char* json), {
    Module.tell(UTF8ToString(kind), JSON.parse(UTF8ToString(json)));
});
EM_JS(void, js_ask, (int number, const char* kind, const char* json), {
    Module.ask(number, UTF8ToString(kind), JSON.parse(UTF8ToString(json)));
});
EM_JS(int, js_lend, (const void* bytes, int size), {
    return Module.lend(HEAPU8.slice(bytes, bytes + size));
});
EM_JS(int, js_read, (int handle, void* to, int bytes, double at), {
    try { return Module.handles.get(handle).read(HEAPU8.subarray(to, to + bytes), {at: at}); } catch (error) { return -1; }
});
EM_JS(int, js_write, (int handle, const void* from, int bytes, double at), {
    try { return Module.handles.get(handle).write(HEAPU8.subarray(from, from + bytes), {at: at}); } catch (error) { return -1; }
});
EM_JS(int, js_truncate, (int handle, double size), {
    try { Module.handles.get(handle).truncate(size); return 1; } catch (error) { return 0; }
});
EM_JS(int, js_flush, (int handle), {
    try { Module.handles.get(handle).flush(); return 1; } catch (error) { return 0; }
});
EM_JS(double, js_size, (int handle), {
    try { return Module.handles.get(handle).getSize(); } catch (error) { return -1; }
});
// clang-format on

namespace tapwright::web {
namespace {

// A FileSystemSyncAccessHandle of the worker's script.
class PageHandle : public Handle {
public:
    explicit PageHandle(int number) : number_(number) {}
    int read(void* to, int bytes, std::int64_t at) override {
        return js_read(number_, to, bytes, static_cast<double>(at));
    }
    bool write(const void* from, int bytes, std::int64_t at) override {
        return js_write(number_, from, bytes, static_cast<double>(at)) == bytes;
    }
    bool truncate(std::int64_t size) override { return js_truncate(number_, static_cast<double>(size)) != 0; }
    bool flush() override { return js_flush(number_) != 0; }
    std::int64_t size() override { return static_cast<std::int64_t>(js_size(number_)); }

private:
    int number_;
};

std::map<int, std::function<void(Answer)>>& questions() {
    static std::map<int, std::function<void(Answer)>> open;
    return open;
}

}  // namespace

void tell_page(const char* kind, const Value& value) {
    js_tell(kind, compact_json(value).c_str());
}

void ask_page(const char* kind, const Value& value, std::function<void(Answer)> done) {
    static int latest = 0;
    const int number = ++latest;
    questions()[number] = std::move(done);
    js_ask(number, kind, compact_json(value).c_str());
}

int lend_bytes(std::string_view bytes) {
    return js_lend(bytes.data(), static_cast<int>(bytes.size()));
}

void page_answers(int number, Answer answer) {
    const auto found = questions().find(number);
    if (found == questions().end()) return;
    const std::function<void(Answer)> done = std::move(found->second);
    questions().erase(found);
    done(std::move(answer));
}

std::size_t questions_open() {
    return questions().size();
}

std::unique_ptr<Handle> page_handle(int number) {
    return std::make_unique<PageHandle>(number);
}

double steady_seconds() {
    return emscripten_get_now() / 1000;
}

}  // namespace tapwright::web
