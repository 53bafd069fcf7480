using System.Text.RegularExpressions;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Melting;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Observations;

/// <summary>Readings typed in this browser in other units than °C and kPa, so that they are shown and typed again as they were.</summary>
/// <remarks>
/// They lie in a cookie until the browser is closed or somebody signs out. One is used only for a reading that it reads to, so
/// nothing is said to have been typed that means something else.
/// </remarks>
public sealed partial class TypedReadings
{
    private const string Cookie = "derivid-typed";
    private const string MmHg = " mmHg";

    // A few observations; a cookie may hold 4 KB.
    private const int Most = 24;
    private const int MostLetters = 1200;

    private readonly IReadOnlyList<string> _typed;

    private TypedReadings(IReadOnlyList<string> typed) => _typed = typed;

    /// <summary>Those of a browser.</summary>
    /// <param name="context">Its request.</param>
    /// <returns>Shape: last typed first.</returns>
    public static TypedReadings Of(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return new TypedReadings(
            [.. (context.Request.Cookies[Cookie] ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(text => text.Length <= MeltingRangeText.LongestText).Take(Most)]);
    }

    /// <summary>A range as it was typed. Missing: null, in °C, or elsewhere.</summary>
    /// <param name="range">The range. Missing: null, none.</param>
    /// <param name="boils">Whether it is a boiling range.</param>
    public string? Of(RangeObserved? range, bool boils = false) => range?.Figures is { } figures
        ? _typed.FirstOrDefault(text => MeltingRangeText.Parse(text, boils).Range is { } read
            && Same(read.OnsetCelsius, figures.OnsetCelsius) && Same(read.ClearPointCelsius, figures.ClearPointCelsius)
            && read.Decomposes == (figures.Decomposes == true))
        : null;

    /// <summary>A pressure as it was typed, in mmHg. Missing: null, in kPa, or elsewhere.</summary>
    /// <param name="kilopascals">The pressure. Units: kPa. Missing: null, none.</param>
    public string? OfPressure(double? kilopascals) => kilopascals is { } pressure
        ? _typed.Where(text => text.EndsWith(MmHg, StringComparison.Ordinal)).Select(text => text[..^MmHg.Length])
            .FirstOrDefault(text => Figure.Read(text) is { } typed && Same(typed * Words.KilopascalsPerMmHg, pressure))
        : null;

    /// <summary>Keeps those of a form sent that are in other units.</summary>
    /// <param name="context">The request.</param>
    /// <param name="ranges">The melting and boiling ranges, as typed.</param>
    /// <param name="mmHg">A pressure in mmHg, as typed. Missing: null, none.</param>
    internal static void Keep(HttpContext context, IEnumerable<string> ranges, string? mmHg)
    {
        string[] typed = [.. ranges.Select(text => text.Trim()).Where(IsInOtherUnits), .. mmHg is null ? Array.Empty<string>() : [mmHg.Trim() + MmHg]];
        if (typed.Length == 0)
        {
            return;
        }

        var letters = 0;
        var kept = typed.Concat(Of(context)._typed).Distinct(StringComparer.Ordinal).Take(Most).TakeWhile(text => (letters += text.Length + 1) <= MostLetters);
        context.Response.Cookies.Append(Cookie, string.Join('\n', kept), new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Lax,
            Secure = context.Request.IsHttps,
        });
    }

    /// <summary>Forgets them all.</summary>
    /// <param name="context">The request.</param>
    internal static void Forget(HttpContext context) => context.Response.Cookies.Delete(Cookie);

    // What is typed in °C stands in the text as it is read.
    private static bool IsInOtherUnits(string text) =>
        (MeltingRangeText.Parse(text).Range ?? MeltingRangeText.Parse(text, boils: true).Range) is { } read
        && !Number().Matches(text).Any(number => Figure.Read(number.Value) is { } figure && Same(figure, Math.Abs(read.OnsetCelsius)));

    // The service rounds what it keeps to the sixth decimal.
    private static bool Same(double one, double other) => Math.Abs(one - other) <= 1e-6;

    [GeneratedRegex(@"\d+(?:[.,]\d+)?", RegexOptions.CultureInvariant)]
    private static partial Regex Number();
}
