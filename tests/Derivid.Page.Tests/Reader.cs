using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>How somebody uses the page.</summary>
public enum Way
{
    /// <summary>With a mouse, scripts on.</summary>
    Mouse,

    /// <summary>With a mouse, scripts off.</summary>
    NoScript,

    /// <summary>With the keyboard alone.</summary>
    Keyboard,
}

/// <summary>Somebody before a browser of their own; what they do is counted.</summary>
public sealed partial class Reader : IAsyncDisposable
{
    // More stops of the Tab key than any view has.
    private const int MostStops = 600;

    // Nothing is measured by it: a busy machine makes everything slow, and one that is held up for a minute nothing wrong.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    private readonly IBrowserContext _context;
    private readonly Way _way;
    private readonly List<string> _strangers = [];
    private readonly List<string> _complaints = [];

    private Reader(IBrowserContext context, IPage page, string address, Way way, string? alsoFrom)
    {
        (_context, Page, Address, _way) = (context, page, address, way);
        page.SetDefaultTimeout((float)Patience.TotalMilliseconds);
        page.Request += (_, request) =>
        {
            if (!new[] { address, alsoFrom, "data:" }.OfType<string>().Any(known => request.Url.StartsWith(known, StringComparison.Ordinal)))
            {
                _strangers.Add(request.Url);
            }
        };
        page.Console += (_, message) =>
        {
            // The package that shows the interface sets one style in vain; nothing of it is missed.
            var isOfInterface = message.Location.Contains("/swagger/", StringComparison.Ordinal) && message.Text.StartsWith("Applying inline style", StringComparison.Ordinal);
            if (message.Type == "error" && !isOfInterface && !message.Text.StartsWith("Failed to load resource", StringComparison.Ordinal))
            {
                _complaints.Add(message.Text);
            }
        };
        page.PageError += (_, fault) => _complaints.Add(fault);
    }

    /// <summary>The browser's page.</summary>
    public IPage Page { get; }

    /// <summary>The service's address.</summary>
    public string Address { get; }

    /// <summary>Clicks, texts entered, choices made.</summary>
    public int Interactions { get; private set; }

    /// <summary>Sits down before a browser.</summary>
    /// <param name="browser">The browser.</param>
    /// <param name="address">The service's address; a request to any other is a fault.</param>
    /// <param name="way">How they use the page.</param>
    /// <param name="options">What the browser is like. Missing: a window of 1280 by 900.</param>
    /// <param name="alsoFrom">Another address that may be asked. Missing: none.</param>
    public static async Task<Reader> SitDownAsync(
        BrowserFixture browser, string address, Way way = Way.Mouse, BrowserNewContextOptions? options = null, string? alsoFrom = null)
    {
        options ??= new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 900 } };
        options.JavaScriptEnabled = way != Way.NoScript;
        var context = await browser.Browser.NewContextAsync(options);
        return new Reader(context, await context.NewPageAsync(), address, way, alsoFrom);
    }

    /// <summary>How many pages it is printed on.</summary>
    public async Task<int> PagesAsync(string paper)
    {
        var pdf = System.Text.Encoding.Latin1.GetString(await Page.PdfAsync(new PagePdfOptions { Format = paper, PreferCSSPageSize = true }));
        return System.Text.RegularExpressions.Regex.Count(pdf, @"/Type\s*/Page\b(?!s)");
    }

    /// <summary>What is wrong with it in print: letters smaller than may be, and parts of which none is shown.</summary>
    public async Task<string[]> FaultsInPrintAsync(double smallestPoints, params string[] parts)
    {
        await Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        var faults = await Page.EvaluateAsync<string[]>(
            """
            ([smallest, parts]) => {
              const written = [...document.querySelectorAll('main *')].filter(element => element.checkVisibility()
                && [...element.childNodes].some(node => node.nodeType === Node.TEXT_NODE && node.textContent.trim() !== ''));
              const small = written.filter(element => parseFloat(getComputedStyle(element).fontSize) * 0.75 < smallest).map(element => element.outerHTML.slice(0, 80));
              const missing = parts.filter(part => ![...document.querySelectorAll(part)].some(element => element.checkVisibility())).map(part => `no ${part}`);
              return [...small.slice(0, 3), ...missing];
            }
            """, new object[] { smallestPoints, parts });
        await Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Null });
        return faults;
    }

    /// <summary>Opens an address of the page.</summary>
    public async Task<IResponse> OpenAsync(string address) => (await Page.GotoAsync(Address + address))!;

    /// <summary>Signs in; what that takes is counted too.</summary>
    public async Task SignInAsync(string key)
    {
        await OpenAsync("/sign-in");
        await FillAsync("Key", key);
        await PressAsync("Sign in");
    }

    /// <summary>Asks for an address as a browser does, with this reader's cookies, and shows nothing: for what is only read from the answer.</summary>
    public Task<IAPIResponse> AskAsync(string address) =>
        _context.APIRequest.GetAsync(Address + address, new APIRequestContextOptions { Headers = [new("Accept", "text/html")] });

    /// <summary>Comes signed in already: the form is sent, not shown, and nothing is counted. What is shown stays.</summary>
    /// <remarks>A fifth of the work of <see cref="SignInAsync"/>, which is for those whose signing in is looked at.</remarks>
    public async Task ComeSignedInAsync(string key)
    {
        var form = _context.APIRequest.CreateFormData();
        foreach (Match field in HiddenField().Matches(await (await AskAsync("/sign-in")).TextAsync()))
        {
            form.Set(field.Groups["name"].Value, field.Groups["value"].Value);
        }

        form.Set("key", key);
        var answer = await _context.APIRequest.PostAsync(Address + "/sign-in", new APIRequestContextOptions { Form = form, MaxRedirects = 0, Headers = [new("Origin", Address)] });
        Assert.Equal(302, answer.Status);
    }

    /// <summary>Follows a link.</summary>
    public Task FollowAsync(string name, bool exact = true) =>
        GoAsync(Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = name, Exact = exact }).First, "Enter");

    /// <summary>Presses a button.</summary>
    public Task PressAsync(string name, bool exact = true) =>
        GoAsync(Page.Locator("main").GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = name, Exact = exact }).First, "Enter");

    /// <summary>Opens what is folded.</summary>
    public Task UnfoldAsync(string name) =>
        GoAsync(Page.Locator("summary", new PageLocatorOptions { HasText = name }).First, "Enter", leaves: false);

    /// <summary>Opens all that is folded; not counted.</summary>
    public Task UnfoldAllAsync() => Page.EvaluateAsync("() => document.querySelectorAll('details').forEach(fold => fold.open = true)");

    /// <summary>Enters a text.</summary>
    public async Task FillAsync(string label, string text)
    {
        Interactions++;
        var field = Field(label);
        if (_way == Way.Keyboard)
        {
            await TabToAsync(field);
            await Page.Keyboard.PressAsync("Control+A");
            await Page.Keyboard.InsertTextAsync(text);
        }
        else
        {
            await field.FillAsync(text);
        }
    }

    /// <summary>Chooses of a list.</summary>
    public async Task ChooseAsync(string label, string choice)
    {
        Interactions++;
        var field = Field(label);
        if (_way == Way.Keyboard)
        {
            // Typing the beginning of an entry chooses it.
            await TabToAsync(field);
            await Page.Keyboard.TypeAsync(choice);
            Assert.Equal(choice, await field.EvaluateAsync<string>("list => list.selectedOptions[0].text"));
        }
        else
        {
            await field.SelectOptionAsync(new SelectOptionValue { Label = choice });
        }
    }

    /// <summary>Ticks a box, or takes one of several.</summary>
    public async Task TickAsync(string label)
    {
        Interactions++;
        var box = Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).First;
        if (_way != Way.Keyboard)
        {
            await box.CheckAsync();
            return;
        }

        if (await box.GetAttributeAsync("type") == "radio")
        {
            // The Tab key stops at the one chosen; the arrows go from there.
            await TabToAsync(Page.Locator($"input[name='{await box.GetAttributeAsync("name")}']:checked"));
            for (var step = 0; step < MostStops && !await box.IsCheckedAsync(); step++)
            {
                await Page.Keyboard.PressAsync("ArrowRight");
            }
        }
        else
        {
            await TabToAsync(box);
            await Page.Keyboard.PressAsync("Space");
        }

        Assert.True(await box.IsCheckedAsync());
    }

    /// <summary>Chooses a file; a script does it for the keyboard too, whose dialogue is the system's.</summary>
    public async Task ChooseFileAsync(string label, string name, string type, byte[] content)
    {
        Interactions++;
        await Page.GetByLabel(label).SetInputFilesAsync(new FilePayload { Name = name, MimeType = type, Buffer = content });
    }

    /// <summary>Has what is below the window laid out now, not when it is come to.</summary>
    public Task LayOutAsync() =>
        Page.EvaluateAsync("() => document.querySelectorAll('section').forEach(section => section.style.contentVisibility = 'visible')");

    /// <summary>The heading of the view shown.</summary>
    public Task<string> HeadingAsync() => Page.Locator("main h1").First.InnerTextAsync();

    /// <summary>All the view says.</summary>
    public Task<string> TextAsync() => Page.Locator("main").InnerTextAsync();

    public async ValueTask DisposeAsync()
    {
        await _context.DisposeAsync();

        // Of every reader, in every test: nothing came from elsewhere, no policy was broken, no script failed.
        Assert.Empty(_strangers);
        Assert.Empty(_complaints);
    }

    private ILocator Field(string label) => Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).First;

    private async Task GoAsync(ILocator what, string key, bool leaves = true)
    {
        Interactions++;
        var before = leaves ? await MarkAsync() : "";
        var navigated = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        Page.FrameNavigated += Navigated;
        if (_way == Way.Keyboard)
        {
            await TabToAsync(what);
            await Page.Keyboard.PressAsync(key);
        }
        else
        {
            await what.ClickAsync();
        }

        if (leaves)
        {
            // Every link and button leads to a view written anew.
            await ArriveAsync(before, navigated.Task);
        }

        Page.FrameNavigated -= Navigated;

        void Navigated(object? page, IFrame frame) => navigated.TrySetResult();
    }

    // The browser tells of most views; of one written into the page's own place only the page itself knows, and is asked now and then.
    private async Task ArriveAsync(string before, Task navigated)
    {
        using var patience = new CancellationTokenSource(Patience);
        for (var mark = before; mark == before;)
        {
            var soon = Task.Delay(25, patience.Token);
            await (navigated.IsCompleted ? soon : await Task.WhenAny(navigated, soon));
            try
            {
                mark = await MarkAsync();
            }
            catch (PlaywrightException)
            {
                // The view is being left just now.
            }
        }

        await Page.WaitForLoadStateAsync(LoadState.Load);
    }

    private Task<string> MarkAsync() => Page.EvaluateAsync<string>("() => performance.timeOrigin + ' ' + document.documentElement.dataset.views");

    private async Task TabToAsync(ILocator what)
    {
        await what.WaitForAsync();
        for (var stop = 0; stop < MostStops; stop++)
        {
            if (await what.EvaluateAsync<bool>("element => element === document.activeElement"))
            {
                return;
            }

            await Page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"The keyboard does not reach {what}.");
    }

    [GeneratedRegex("""<input type="hidden" name="(?<name>[^"]+)"(?: value="(?<value>[^"]*)")?""")]
    private static partial Regex HiddenField();
}
