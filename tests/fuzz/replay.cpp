// Runs a fuzz target without libFuzzer, in any build: on each input of the folders named, and on changes of them. The
// same ones in every run, so that what fails here fails again.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

// A target's own way of changing an input; json_fuzz.cpp has one and calls for this one in between.
extern "C" [[gnu::weak]] std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most,
                                                             unsigned seed);
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using Bytes = std::vector<std::uint8_t>;
constexpr std::size_t most_bytes = 20'000;  // of an input that is changed

std::minstd_rand& chance() {
    static std::minstd_rand made(1);
    return made;
}

void run(const Bytes& input) {
    // A copy of its own, so that a read past its end is one past a piece of memory.
    const Bytes copy(input);
    LLVMFuzzerTestOneInput(copy.data(), copy.size());
}

Bytes changed(Bytes input) {
    std::size_t size = input.size();
    input.resize(std::max(size, most_bytes));
    for (std::size_t times = 1 + chance()() % 4; times > 0; --times) {
        const auto seed = static_cast<unsigned>(chance()());
        size = LLVMFuzzerCustomMutator ? LLVMFuzzerCustomMutator(input.data(), size, input.size(), seed)
                                       : LLVMFuzzerMutate(input.data(), size, input.size());
    }
    input.resize(size);
    return input;
}

std::vector<Bytes> inputs_of(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    std::vector<Bytes> inputs;
    for (const auto& path : paths) {
        std::ifstream file(path, std::ios::binary);
        inputs.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
    }
    return inputs;
}

}  // namespace

// A byte replaced, put in or taken away.
std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most) {
    if (size == 0 && most > 0) return data[0] = static_cast<std::uint8_t>(chance()()), 1;
    const std::size_t at = chance()() % size;
    switch (chance()() % 3) {
        case 0:
            if (size < most) {
                std::copy_backward(data + at, data + size, data + size + 1);
                data[at] = static_cast<std::uint8_t>(chance()() % 256);
                return size + 1;
            }
            return size;
        case 1:
            std::copy(data + at + 1, data + size, data + at);
            return size - 1;
        default:
            data[at] = static_cast<std::uint8_t>(chance()() % 256);
            return size;
    }
}

int main(int count, char** arguments) {
    if (count != 3) return std::fprintf(stderr, "usage: %s CHANGES FOLDER\n", arguments[0]), 2;
    const std::size_t changes = std::strtoul(arguments[1], nullptr, 10);
    std::vector<Bytes> inputs = inputs_of(arguments[2]);
    if (inputs.empty()) return std::fprintf(stderr, "%s holds no input.\n", arguments[2]), 1;
    inputs.emplace_back();
    for (const Bytes& input : inputs) run(input);
    for (std::size_t tried = 0; tried < changes; ++tried) run(changed(inputs[tried % inputs.size()]));
    std::printf("%zu inputs and %zu changes of them.\n", inputs.size(), changes);
    return 0;
}
