using System.Globalization;

namespace Derivid.Cli.Writing;

/// <summary>How figures are written for people.</summary>
internal static class Figures
{
    /// <summary>A probability as a percentage; never 0 % or 100 %, which it isn't.</summary>
    public static string Percent(double probability) => probability switch
    {
        >= 0.9995 => ">99.9 %",
        < 0.0005 => "<0.1 %",
        _ => string.Create(CultureInfo.InvariantCulture, $"{probability * 100:0.0} %"),
    };

    /// <summary>A whole number or one with its decimals, with a point.</summary>
    public static string Plain(IFormattable number) => number.ToString(null, CultureInfo.InvariantCulture);

    /// <summary>So many things, one of them in the singular.</summary>
    public static string Count(int number, string thing) => $"{Plain(number)} {thing}{(number == 1 ? "" : "s")}";

    /// <summary>A number with its sign.</summary>
    public static string Signed(double number) => number.ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);

    /// <summary>A day.</summary>
    public static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>An instant, to the minute, UTC.</summary>
    public static string Moment(DateTime? instant) =>
        instant?.ToUniversalTime().ToString("yyyy-MM-dd HH:mm'Z'", CultureInfo.InvariantCulture) ?? "";
}
