using System.Globalization;
using Derivid.Client;
using Derivid.Page.Forms;
using Derivid.Page.Sessions;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;

namespace Derivid.Page.Failures;

/// <summary>Why a view can't be shown.</summary>
/// <param name="Status">The HTTP status code.</param>
/// <param name="Title">What happened, in a few words.</param>
/// <param name="Detail">What happened this time, and what to do.</param>
public sealed record Failure(int Status, string Title, string Detail)
{
    private const string TokenField = "__RequestVerificationToken";

    // As much as is read of a form nobody may be signed in for; a longer one holds a file.
    private const int LargestKeptBytes = 1024 * 1024;

    // A key opens something: it is not written into a view.
    private const string KeyField = "key";

    /// <summary>Names the request in the service's log. Missing: null.</summary>
    public string? TraceId { get; init; }

    /// <summary>When to try again. Missing: null, nobody said.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>The address the form was sent to. Missing: null, that of the request.</summary>
    public string? Address { get; init; }

    /// <summary>Where the browser goes on to by itself. Missing: null, nowhere.</summary>
    public string? Onward { get; init; }

    /// <summary>The fields of a form that was sent in vain, to be sent again. Shape: empty when there was none; files and keys aren't kept.</summary>
    public IReadOnlyList<KeptField> Kept { get; init; } = [];

    /// <summary>Whether the form had files, which can't be kept.</summary>
    public bool HadFiles { get; init; }

    /// <summary>Whether the form held a key, which is to be typed again.</summary>
    public bool HadKey { get; init; }

    /// <summary>The service refused, or can't just now.</summary>
    /// <param name="refusal">What it said.</param>
    public static Failure Of(DerividException refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        return new Failure(refusal.Problem.Status, refusal.Problem.Title, refusal.Detail)
        {
            TraceId = refusal.Problem.TraceId,
            RetryAfter = refusal.RetryAfter,
        };
    }

    /// <summary>The service didn't answer.</summary>
    public static Failure NoAnswer { get; } = new(
        StatusCodes.Status503ServiceUnavailable, "The service does not answer just now.", "Try again in a few seconds.")
    {
        RetryAfter = TimeSpan.FromSeconds(5),
    };

    /// <summary>There is no such view.</summary>
    public static Failure NotFound { get; } = new(
        StatusCodes.Status404NotFound, "There is nothing at this address.", "Perhaps it was mistyped. The bench and the table are above.");

    /// <summary>The session's role doesn't reach so far.</summary>
    public static Failure Forbidden { get; } = new(
        StatusCodes.Status403Forbidden, "Your role does not reach so far.", "Sign in with a key of the role this view needs.");

    /// <summary>A form was sent, and its session had ended.</summary>
    public static Failure SignedOut { get; } = new(
        StatusCodes.Status401Unauthorized, "You are no longer signed in.", "Nothing was done yet.");

    /// <summary>Signed in again, what was sent before can be sent now. No failure, but what is left of one.</summary>
    public static Failure SignedInAgain { get; } = new(
        StatusCodes.Status200OK, "You are signed in again.", "What you sent before was not done yet.");

    /// <summary>Signed out here; the institution's session ends where the browser goes on to. No failure, but a stop on the way.</summary>
    public static Failure SignedOutHere { get; } = new(
        StatusCodes.Status200OK, "You are signed out here.", "Your institution’s session ends next.")
    {
        Address = "/",
    };

    /// <summary>A form came from another site, or from another session than there is now.</summary>
    /// <param name="context">The request that brought it.</param>
    public static Failure OfForm(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return Session.Of(context) is not null && IsOfThisPage(context.Request) ? OpenedBefore : ForeignForm;
    }

    private static Failure ForeignForm { get; } = new(
        StatusCodes.Status400BadRequest, "The form was not taken.",
        "It came from another site, or the page was open for so long that its session has ended. Nothing was done. If it was you, send it again.");

    private static Failure OpenedBefore { get; } = new(
        StatusCodes.Status400BadRequest, "This form was opened in another session.",
        "Nothing was done yet. Send it again if you want it done as whoever is signed in now.");

    /// <summary>Our own fault.</summary>
    /// <param name="traceId">Names the request in the log.</param>
    public static Failure Unexpected(string traceId) => new(
        StatusCodes.Status500InternalServerError, "Something went wrong here.", "It was not you. Nothing was lost that was stored before.")
    {
        TraceId = traceId,
    };

    /// <summary>The same, with what a form of this page held.</summary>
    /// <param name="request">The request.</param>
    public async Task<Failure> KeepingAsync(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (Address is not null || !HttpMethods.IsPost(request.Method) || !IsOfThisPage(request))
        {
            return this;
        }

        try
        {
            // The token was of a session that has ended: the framework would not let a form with it be read.
            request.HttpContext.Features.Set<IAntiforgeryValidationFeature>(null);
            if (!request.HasFormContentType || (request.ContentLength is null or > LargestKeptBytes && !IsRead(request)))
            {
                return this;
            }

            var form = await request.ReadFormAsync(request.HttpContext.RequestAborted);
            return this with
            {
                Kept = [.. form.Where(field => field.Key is not (TokenField or KeyField))
                    .SelectMany(field => field.Value.Select(value => new KeptField(field.Key, value ?? "")))],
                HadFiles = form.Files.Any(file => file.Length > 0),
                HadKey = !string.IsNullOrEmpty(form[KeyField]),
            };
        }
        catch (Exception unread) when (unread is InvalidDataException or IOException)
        {
            return this;
        }
    }

    private static bool IsRead(HttpRequest request) => request.HttpContext.Features.Get<IFormFeature>()?.Form is not null;

    // A form whose session has ended carries the token of somebody who is nobody now; that it was sent from this site the
    // browser says, by a header no script and no form of another site can set.
    private static bool IsOfThisPage(HttpRequest request) => IsFromHere(request)
        ?? request.HttpContext.Features.Get<IAntiforgeryValidationFeature>() is { IsValid: true };

    /// <summary>Whether a request was made by one of these views, as the browser says. Missing: null, it doesn't say.</summary>
    /// <remarks>A form of another site is refused even with a token of ours, should one have got there.</remarks>
    /// <param name="request">The request.</param>
    internal static bool? IsFromHere(HttpRequest request) =>
        request.Headers["Sec-Fetch-Site"].ToString() is { Length: > 0 } site and not "none" ? site == "same-origin"
            : Uri.TryCreate(request.Headers.Origin, UriKind.Absolute, out var origin) ? origin.Authority == request.Host.Value
            : null;

    /// <summary>Seconds to wait, as a header has them.</summary>
    internal string? RetryAfterSeconds => RetryAfter is { } wait
        ? Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture)
        : null;
}

/// <summary>A field of a form that was sent in vain.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Value">What it held.</param>
public sealed record KeptField(string Name, string Value)
{
    // What the page puts into its forms for itself.
    private static readonly string[] Own = [PostedForm.HandlerField, PostedForm.DraftField, PostedForm.IdempotencyKeyField, "tag", "revision", "made", "draft", "returnUrl", "kept"];

    /// <summary>Whether somebody typed or chose it.</summary>
    public bool IsTyped => Value.Length > 0 && !Own.Contains(Name);

    /// <summary>What it is about, as far as its name says.</summary>
    public string About => Shown.Capital(string.Join(", ", Name.Split(':')[0].Split('/', StringSplitOptions.RemoveEmptyEntries)
        .Select(part => int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var row) ? $"{row + 1}" : Shown.Spaced(part))));
}
