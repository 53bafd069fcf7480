using System.Globalization;
using System.Text;

namespace Derivid.Benchmarks.Load;

/// <summary>Observations to send, all different, the same in every run.</summary>
/// <remarks>Figures are drawn by number, not taken from anybody: what is right doesn't matter here.</remarks>
internal static class LoadQuestions
{
    /// <summary>A GET.</summary>
    /// <param name="path">What is asked for.</param>
    public static byte[] Get(string path) => Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n");

    /// <summary>An identification by a 2,4-dinitrophenylhydrazone, its colour and two spot tests.</summary>
    /// <param name="number">Which one; another number is another observation.</param>
    /// <param name="query">With the question mark.</param>
    public static byte[] Identification(int number, string query) => Post("/api/v1/identifications" + query, number);

    /// <summary>The same observation, ranked without reasons.</summary>
    /// <param name="number">Which one.</param>
    public static byte[] Ranking(int number) => Post("/api/v1/rankings", number);

    private static byte[] Post(string path, int number)
    {
        var body = Observation(number);
        return Encoding.ASCII.GetBytes(
            $"POST {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: {body.Length}\r\n\r\n{body}");
    }

    private static string Observation(int number)
    {
        // Steps that share no factor with the spans, so that the numbers run through all of them.
        var onset = 60 + (number * 37 % 2200 / 10.0);
        var span = 1 + (number / 2200 % 40 / 10.0);
        var further = number / 88_000;
        return string.Create(
            CultureInfo.InvariantCulture,
            $$"""{"derivatives":[{"kind":"2,4-DNPH","meltingRange":{"onsetCelsius":{{onset:0.0}},"clearPointCelsius":{{onset + span:0.0}}},"colour":"{{(number % 2 == 0 ? "yellow" : "orange")}}"}],"spotTests":[{"test":"iodoform","outcome":"{{(number % 3 == 0 ? "positive" : "negative")}}"},{"test":"tollens","outcome":"{{(number % 5 == 0 ? "positive" : "negative")}}"}],"windowCelsius":{{5 + further}}}""");
    }
}
