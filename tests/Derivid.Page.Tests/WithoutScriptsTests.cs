using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>Every view in a browser whose scripts are off. Its service is its own: forms are sent, and things happen.</summary>
public sealed class WithoutScriptsTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    // Views with something to send, at least.
    private const int LeastForms = 25;

    [Fact]
    public async Task EveryViewSaysTheSameAndEveryFormCanBeSent()
    {
        var faults = new List<string>();
        var sent = 0;
        foreach (var part in shown.Views.GroupBy(view => view.Least == Role.Student))
        {
            var key = shown.KeyOf(part.Key ? Role.Student : Role.Administrator);
            await using var scripted = await Reader.SitDownAsync(browser, shown.Service.Address);
            await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
            await scripted.ComeSignedInAsync(key);
            await reader.ComeSignedInAsync(key);

            // First all views as they are, then what their forms do to them.
            foreach (var (address, _) in part)
            {
                await scripted.OpenAsync(address);
                await reader.OpenAsync(address);
                if (await scripted.TextAsync() != await reader.TextAsync())
                {
                    faults.Add($"{address} says something else without scripts.");
                }
            }

            foreach (var (address, _) in part)
            {
                await reader.OpenAsync(address);
                var forms = await reader.Page.Locator("main form[method=post]").CountAsync();
                for (var number = 0; number < forms; number++)
                {
                    if (number > 0)
                    {
                        await reader.OpenAsync(address);
                    }

                    if (await SendAsync(reader, number) is { } fault)
                    {
                        faults.Add($"{address}, form {number + 1}: {fault}");
                    }

                    sent++;
                    if (await reader.Page.Locator(".who form").CountAsync() == 0)
                    {
                        await reader.ComeSignedInAsync(key);
                    }
                }
            }
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.True(sent >= LeastForms, $"Only {sent} forms were sent.");
    }

    // Sends a form of the view as it stands. What it asks for may be missing; then it says so, in the view, at the field.
    private static async Task<string?> SendAsync(Reader reader, int number)
    {
        var form = reader.Page.Locator("main form[method=post]").Nth(number);
        if (await form.CountAsync() == 0)
        {
            // An earlier form of the view did away with it.
            return null;
        }

        await reader.UnfoldAllAsync();
        var id = await form.GetAttributeAsync("id");
        var button = reader.Page.Locator(id is null ? "main form[method=post] button[type=submit]" : $"form#{id} button[type=submit], button[form={id}]").First;
        if (await button.CountAsync() == 0)
        {
            return "nothing sends it.";
        }

        var answer = await reader.Page.RunAndWaitForResponseAsync(() => button.ClickAsync(), response => response.Request.Method == "POST" && response.Request.IsNavigationRequest);
        await reader.Page.WaitForLoadStateAsync();
        return answer.Status switch
        {
            >= 300 and < 400 or 200 => null,
            422 => await reader.Page.Locator(".faults li").CountAsync() > 0 ? null : "it was refused and nothing says why.",
            var status => $"it was answered {status}: {await reader.HeadingAsync()}",
        };
    }
}
